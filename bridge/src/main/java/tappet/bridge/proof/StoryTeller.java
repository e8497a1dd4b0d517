package tappet.bridge.proof;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.proof.Watched;
import tappet.rules.ControlTable;

/** Tells stories of a network in the sentences that owners and scenarios use. */
public final class StoryTeller {

  private final Watched watched;
  private final Network network;
  private final Requested requested;
  private final Blame blame;

  /**
   * @param watched the network that was made of the layout and its rules
   */
  public StoryTeller(Layout layout, ControlTable table, Watched watched) {
    this.watched = watched;
    this.network = watched.network();
    this.requested = new Requested(layout, table);
    this.blame = new Blame(table);
  }

  /** How a property comes to be broken. */
  public Account account(Property property, Story story) {
    return new Account(
        property.words(), story.beginning(), deeds(story), blame.of(property, story), "");
  }

  /** What happens, one thing after the other; what is only told twice is left out. */
  private List<Deed> deeds(Story story) {
    Stepper beginning = story.begin(watched);
    Reported reported = new Reported(network);
    Map<Variable, Boolean> inputs = new HashMap<>();
    network.variables().forEach(variable -> inputs.put(variable, beginning.value(variable)));
    List<Deed> deeds = new ArrayList<>();
    for (Story.Moment moment : story.moments()) {
      for (int index = 0; index < moment.reports().size(); index++) {
        Variable input = moment.reports().get(index);
        inputs.put(input, moment.values().get(index));
        deeds.add(reported.deed(input, inputs::get));
      }
      moment.pulses().stream()
          .sorted((one, other) -> one.name().compareTo(other.name()))
          .forEach(pulse -> deeds.add(deed(pulse)));
    }
    return deeds.stream().filter(deed -> deed.kind() != Deed.Kind.FOLLOWS).toList();
  }

  private Deed deed(Variable pulse) {
    return time(pulse).or(() -> requested.deed(pulse)).orElseGet(() -> Deed.unsaid(pulse.name()));
  }

  private Optional<Deed> time(Variable pulse) {
    return network.timerEndedBy(pulse).map(StoryTeller::pass);
  }

  private static Deed pass(Timer timer) {
    String span = span(timer.duration());
    return new Deed(Deed.Kind.PASS, span, span + " go by: " + timer.hasRun().name());
  }

  private static String span(Duration time) {
    return time.toMillis() % 1000 == 0 ? time.toSeconds() + " s" : time.toMillis() + " ms";
  }
}
