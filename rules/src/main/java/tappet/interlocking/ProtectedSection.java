package tappet.interlocking;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import tappet.layout.Track;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/** Protection of people on one section: permit, blocking and blue flag, one at a time. */
final class ProtectedSection {

  final SectionCircuit section;
  final ProtectionCircuit permit;
  final ProtectionCircuit blocking;
  final ProtectionCircuit flag;

  /** Any of them is in force: no train is led into the section. */
  final Variable closed;

  private final List<Track.Leg> linedAway;

  /**
   * @param linedAway the switches that a blue flag locks, and where they must lie
   */
  ProtectedSection(SectionCircuit section, List<Track.Leg> linedAway, NetworkBuilder network) {
    this.section = section;
    this.linedAway = linedAway;
    String name = Naming.section(section.section);
    String role = "section " + section.section.id() + ": ";
    permit =
        new ProtectionCircuit(
            role + "under permit",
            Words.fact(name + " is under permit", name + " is under no permit"),
            network);
    blocking =
        new ProtectionCircuit(
            role + "blocked", Words.fact(name + " is blocked", name + " is not blocked"), network);
    flag =
        new ProtectionCircuit(
            role + "flagged",
            Words.fact(name + " is under a blue flag", name + " is under no blue flag"),
            network);
    closed =
        network.equation(
            role + "closed",
            Words.through(),
            any(is(permit.stands), is(blocking.stands), is(flag.stands)));
  }

  /** The switches that a blue flag locks. */
  List<Track.Leg> linedAway() {
    return linedAway;
  }

  Stream<ProtectionCircuit> kinds() {
    return Stream.of(permit, blocking, flag);
  }

  /**
   * @param reachingIn routes beside the section's own that a train would leave into it
   * @param automatics the ways beyond automatic signals by which a train would come into it
   */
  void define(List<RouteCircuit> reachingIn, List<AutomaticCircuit> automatics, Circuits circuits) {
    List<Expression> free = new ArrayList<>();
    free.add(is(circuits.started));
    free.add(not(closed));
    free.add(not(section.held));
    reachingIn.forEach(route -> free.add(not(route.locked)));
    automatics.forEach(way -> free.add(way.nobodyComesInto(section.section.id(), circuits)));
    permit.define(
        joined(joined(free, circuits.noEmergency()), nothingBeingReleased(circuits)), circuits);

    List<Expression> still = joined(free, switchesStand(circuits));
    blocking.define(still, circuits);
    flag.define(joined(still, switchesLieAway(circuits)), circuits);
  }

  /** What was asked for before it is not to open inside it. */
  private List<Expression> nothingBeingReleased(Circuits circuits) {
    return circuits.locksIn(section.section.id()).stream()
        .<Expression>map(lock -> not(lock.releasing))
        .toList();
  }

  private List<Expression> switchesStand(Circuits circuits) {
    return circuits.switches.values().stream()
        .filter(toe -> toe.toe.section().equals(section.section.id()))
        .<Expression>map(toe -> is(circuits.protections.of(toe).settled))
        .toList();
  }

  private List<Expression> switchesLieAway(Circuits circuits) {
    return linedAway.stream()
        .<Expression>map(leg -> is(circuits.toe(leg.switchId()).inPlace(leg.position())))
        .toList();
  }

  private static List<Expression> joined(List<Expression> some, List<Expression> others) {
    return Stream.concat(some.stream(), others.stream()).toList();
  }
}
