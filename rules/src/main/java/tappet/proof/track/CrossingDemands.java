package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.GradeCrossing;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Property.Kind;

/**
 * What must hold of a road across the track (interlocking sheet, F.1 S17): it is warned while a
 * train is on it, and while one that a signal sends over it may be in the section before it. One
 * that has stood there while the road was not warned is let go only when the warning time has run.
 */
final class CrossingDemands {

  private final TrackPlan plan;
  private final Plant plant;
  private final Authorities authorities;
  private final LineWatch lines;
  private final NetworkBuilder network;

  CrossingDemands(
      TrackPlan plan,
      Plant plant,
      Authorities authorities,
      LineWatch lines,
      NetworkBuilder network) {
    this.plan = plan;
    this.plant = plant;
    this.authorities = authorities;
    this.lines = lines;
    this.network = network;
  }

  List<Demand> all() {
    List<Demand> demands = new ArrayList<>();
    for (GradeCrossing crossing : plan.layout().lineside().crossings().values()) {
      plant.warns(crossing).ifPresent(warns -> demands.addAll(of(crossing, warns)));
    }
    return demands;
  }

  private List<Demand> of(GradeCrossing crossing, Variable warns) {
    List<Demand> demands = new ArrayList<>();
    demands.add(
        new Demand(
            Kind.ROAD,
            crossing.key() + " warns while a train is on it",
            plant.occupied(crossing.island()),
            is(warns)));
    for (Authority authority : over(crossing)) {
      demands.add(warnsBefore(authority, crossing, warns));
      if (beginsAt(crossing, authority)) {
        demands.add(warnsLongEnough(authority, crossing, warns));
      }
    }
    return demands;
  }

  private Demand warnsBefore(Authority authority, GradeCrossing crossing, Variable warns) {
    return new Demand(
        Kind.ROAD,
        crossing.key() + " warns while a train is before it that comes by " + authority.way.id(),
        Expression.all(
            comes(authority, crossing), mayBeIn(sectionsBefore(authority.way, crossing))),
        is(warns));
  }

  /** By the signal of its way, or past it at Stop where that is automatic. */
  private Expression comes(Authority authority, GradeCrossing crossing) {
    return any(authority.reaches(crossing.island()), lines.comesBySight(authority.way));
  }

  private Demand warnsLongEnough(Authority authority, GradeCrossing crossing, Variable warns) {
    String signal = authority.way.from().id();
    List<String> before = sectionsBefore(authority.way, crossing);
    Variable rested =
        network.latch(
            "watch: " + crossing.key() + " before " + authority.way.id(),
            Words.fact(
                "a train has stood before signal " + signal + " while the road was not warned",
                "the road was warned of every train before signal " + signal));
    Expression warned = plant.hasWarned(crossing);
    network.define(
        rested, Expression.all(mayBeIn(before), not(warns)), any(plant.clear(before), warned));
    return new Demand(
        Kind.ROAD,
        crossing.key() + " has warned for its time before " + authority.way.id() + " is given",
        Expression.all(is(authority.given), is(rested)),
        warned);
  }

  private Expression mayBeIn(List<String> sections) {
    return not(plant.clear(sections));
  }

  private List<Authority> over(GradeCrossing crossing) {
    return authorities.all().stream()
        .filter(authority -> authority.way.sections().contains(crossing.island()))
        .toList();
  }

  /** Whether a signal stands right before the road. */
  private static boolean beginsAt(GradeCrossing crossing, Authority authority) {
    return authority.way.sections().get(0).equals(crossing.island());
  }

  /** From where a train on a way comes to the road. */
  private List<String> sectionsBefore(Way way, GradeCrossing crossing) {
    int island = way.sections().indexOf(crossing.island());
    return island > 0
        ? List.of(way.sections().get(island - 1))
        : Approach.inRearOf(way.from(), plan).stream().map(Track::section).distinct().toList();
  }

  /** What is left to the rules, since the layout does not tell it. */
  List<String> assumptions() {
    return plan.layout().lineside().crossings().values().stream()
        .flatMap(crossing -> assumptions(crossing).stream())
        .toList();
  }

  private List<String> assumptions(GradeCrossing crossing) {
    List<String> assumptions = new ArrayList<>();
    assumptions.add(
        "S17: the section before "
            + crossing.key()
            + " is long enough to give the road its seconds before the fastest train");
    if (over(crossing).stream().anyMatch(authority -> beginsAt(crossing, authority))) {
      plant.warningTimes(crossing).forEach(time -> assumptions.add(isEnough(time, crossing)));
    }
    Set<String> unsignalled = besideTheRoad(crossing);
    over(crossing)
        .forEach(authority -> unsignalled.removeAll(sectionsBefore(authority.way, crossing)));
    if (!unsignalled.isEmpty()) {
      assumptions.add(
          "S17: no signal sends a train over "
              + crossing.key()
              + " from "
              + String.join(" or ", unsignalled)
              + ": nothing is proved of what warns of it there");
    }
    return assumptions;
  }

  private static String isEnough(Timer warning, GradeCrossing crossing) {
    return "S17: "
        + warning.duration().toMillis() / 1000.0
        + " s of warning are enough before a train that has stood at "
        + crossing.key()
        + " goes on, as the rules have it";
  }

  private Set<String> besideTheRoad(GradeCrossing crossing) {
    Set<String> beside = new LinkedHashSet<>();
    for (Track road : plan.tracksIn(crossing.island())) {
      for (String joint : List.of(road.from(), road.to())) {
        plan.onwards(road, joint).forEach(track -> beside.add(track.section()));
      }
    }
    beside.remove(crossing.island());
    return beside;
  }
}
