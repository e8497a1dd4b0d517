package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Stream;
import tappet.interlocking.PublishedExample;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;

/**
 * The published relay equations under the names that Tappet's own properties know, on our layout of
 * the published plan. A cycle runs in every tick. The publication has no switch detection: a switch
 * lies where it was told to lie, and is sent when it is told otherwise. Nor has it permits,
 * blockings, flags or emergencies: there are none.
 */
final class BoundEquations {

  private final PublishedExample published = PublishedExample.named(PublishedExample.TRAM_JUNCTION);
  private final Layout layout = published.layout;
  private final Machine machine = new Machine();
  private final Map<String, Variable> occupied = new LinkedHashMap<>();
  private final Map<String, Variable> requests = new LinkedHashMap<>();

  private BoundEquations() {
    layout.sections().keySet().forEach(this::bindSection);
    for (int request = 1; request <= 4; request++) {
      requests.put("TC" + request, machine.event("request TC" + request));
    }
    RelayEquations equations =
        new RelayEquations(
            published.data.get("equations"), machine, Expression.always(), this::told);
    layout.switches().keySet().forEach(toe -> bindSwitch(toe, equations));
    published.data.get("signals").forEach(signal -> bindSignal(signal, equations));
    machine.equation("start: time has run", Expression.always());
    for (String emergency : new String[] {"emergency off", "emergency stop"}) {
      machine.event(emergency + ": called");
      machine.event(emergency + ": cleared");
    }
  }

  /** Under the watch of Tappet's properties. */
  static Watched watched() {
    BoundEquations bound = new BoundEquations();
    Watched asPublished = bound.machine.watched();
    Watched watched = SafetyProperties.of(bound.layout, asPublished.network());
    return new Watched(
        watched.network(), watched.properties(), asPublished.happenings(), watched.assumptions());
  }

  private void bindSection(String section) {
    String role = "section " + section + ": ";
    machine.equation(role + "known", Expression.always());
    occupied.put(section, machine.input(role + "occupied"));
    Stream.of("under permit", "blocked", "flagged").forEach(state -> isNever(role + state));
  }

  private void isNever(String name) {
    machine.equation(name, Expression.never());
  }

  private Expression told(String input) {
    String track = input.replace("CDV", "");
    return requests.containsKey(input) ? is(requests.get(input)) : not(occupied.get(track));
  }

  private void bindSwitch(String toe, RelayEquations equations) {
    String role = "switch " + toe + ": ";
    Expression straight = is(equations.straight(toe));
    Expression told = equations.toldStraight(toe);
    machine.equation(role + "detected " + Position.NORMAL.word(), straight);
    machine.equation(role + "detected " + Position.REVERSE.word(), not(straight));
    machine.equation(role + "sent " + Position.NORMAL.word(), all(told, not(straight)));
    machine.equation(role + "sent " + Position.REVERSE.word(), all(not(told), straight));
    isNever(role + "blocked");
  }

  private void bindSignal(JsonNode signal, RelayEquations equations) {
    String role = "signal " + published.signal(signal.get("id")) + ": ";
    machine.equation(role + "proceeds", is(equations.proceeds(PublishedExample.id(signal))));
    isNever(role + "blocked");
  }
}
