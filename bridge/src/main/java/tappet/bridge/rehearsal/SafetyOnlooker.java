package tappet.bridge.rehearsal;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import tappet.interlocking.Step;
import tappet.layout.Layout;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;

/** Sees whether everything holds, in every tick, that a proof demands of the layout. */
public final class SafetyOnlooker implements Onlooker {

  /** By the variable that is true while it holds: the property in plain words. */
  private final Map<Variable, String> properties = new HashMap<>();

  private Optional<String> broken = Optional.empty();

  @Override
  public Network over(Layout layout, Network network) {
    Watched watched = SafetyProperties.of(layout, network);
    watched.properties().forEach(property -> properties.put(property.holds(), property.words()));
    return watched.network();
  }

  @Override
  public void changed(Variable variable, boolean value) {
    if (!value && broken.isEmpty()) {
      broken = Optional.ofNullable(properties.get(variable));
    }
  }

  @Override
  public Optional<String> stepped(Step step, long nowNs) {
    Optional<String> told = broken.map(words -> "it is not safe; not so: " + words);
    broken = Optional.empty();
    return told;
  }
}
