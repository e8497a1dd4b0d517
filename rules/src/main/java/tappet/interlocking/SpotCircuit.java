package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.SpotDetector;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.sentence.Command.Heading;

/**
 * A spot detector: announces trains that pass. Where it does not tell their direction itself, the
 * section on that side which was occupied before the other tells it (common practice, no source).
 */
final class SpotCircuit implements LinesideCircuit {

  final SpotDetector spot;
  private final TrackPlan plan;
  private final Variable passed;
  private final Map<Heading, Variable> passedTo = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> comes = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> announced = new EnumMap<>(Heading.class);
  private final Variable announcedAlone;

  SpotCircuit(SpotDetector spot, TrackPlan plan, NetworkBuilder network) {
    this.spot = spot;
    this.plan = plan;
    String name = Naming.device(spot);
    String role = spot.key() + ": ";
    passed = network.pulse(role + "passed", Words.through());
    for (Heading heading : Heading.values()) {
      String word = word(heading);
      passedTo.put(heading, network.pulse(role + "passed " + word, Words.through()));
      comes.put(
          heading,
          network.latch(
              role + "comes " + word,
              Words.fact("a train comes to " + name + " " + word, "no train comes " + word)));
      announced.put(
          heading,
          network.equation(
              role + "announced " + word, Words.fact("a train passes " + name + " " + word, "")));
    }
    announcedAlone = network.equation(role + "announced", Words.fact("a train passes " + name, ""));
  }

  /** The variables that are true for one tick when a train is announced. */
  List<Variable> announcements() {
    return List.of(announced.get(Heading.EAST), announced.get(Heading.WEST), announcedAlone);
  }

  void lay(Optional<Heading> heading, Stepper stepper) {
    stepper.pulse(heading.map(passedTo::get).orElse(passed));
  }

  @Override
  public void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    Optional<String> west = sectionTo(Heading.WEST);
    Optional<String> east = sectionTo(Heading.EAST);
    boolean tells = west.isPresent() && east.isPresent() && !west.equals(east);
    for (Heading heading : Heading.values()) {
      if (tells) {
        Optional<String> from = heading == Heading.EAST ? west : east;
        Optional<String> to = heading == Heading.EAST ? east : west;
        SectionCircuit before = circuits.section(from.get());
        SectionCircuit beyond = circuits.section(to.get());
        network.define(
            comes.get(heading), all(before.isOccupied(), is(beyond.vacant)), is(before.vacant));
      } else {
        network.define(comes.get(heading), never(), never());
      }
    }
    for (Heading heading : Heading.values()) {
      network.define(
          announced.get(heading), any(is(passedTo.get(heading)), all(is(passed), only(heading))));
    }
    network.define(
        announcedAlone, all(is(passed), not(only(Heading.EAST)), not(only(Heading.WEST))));
  }

  private Expression only(Heading heading) {
    Heading opposite = heading == Heading.EAST ? Heading.WEST : Heading.EAST;
    return all(is(comes.get(heading)), not(comes.get(opposite)));
  }

  /** The section on that side of it; empty at an end of track, and where the plan does not tell. */
  private Optional<String> sectionTo(Heading side) {
    return plan.sides(spot.at()).stream()
        .filter(track -> side == Heading.EAST ? across(track) > 0 : across(track) < 0)
        .map(Track::section)
        .findFirst();
  }

  /** How far to the east of the spot a track leads. */
  private double across(Track track) {
    var joints = plan.layout().joints();
    return joints.get(track.otherEnd(spot.at())).x() - joints.get(spot.at()).x();
  }

  private static String word(Heading heading) {
    return heading == Heading.EAST ? "eastward" : "westward";
  }

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    List<Explanation> coming =
        comes.values().stream()
            .filter(stepper::value)
            .map(comes -> Explanation.fact(comes.words().whenTrue()))
            .toList();
    return new Explanation(Naming.device(spot) + " announces trains at joint " + spot.at(), coming);
  }
}
