package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.time.Duration;
import java.util.Optional;
import tappet.layout.Section;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * What is known of a section.
 *
 * <p>"Clear" is what the detector says now and only holds signals back. "Vacant" has been clear for
 * the loss-of-shunt time, and only vacant sections grant or release anything (49 CFR 236.309).
 */
final class SectionCircuit {

  final Section section;
  final Variable known;
  final Variable occupied;
  final Variable clear;
  final Variable vacant;
  final Variable held;

  /** Its detector has been heard; whether that counts is for {@link #known} to say. */
  final Variable reported;

  /**
   * @param district the power district that feeds it, where there is one
   */
  SectionCircuit(
      Section section,
      Duration lossOfShunt,
      Optional<DistrictCircuit> district,
      NetworkBuilder network) {
    this.section = section;
    String name = Naming.section(section);
    String role = "section " + section.id() + ": ";

    reported =
        network.input(
            role + (district.isPresent() ? "reported" : "known"),
            Words.fact(name + " reports", name + " has not reported"));
    known = district.map(power -> power.vouchesFor(role, name, reported, network)).orElse(reported);
    occupied =
        network.input(
            role + "occupied",
            Words.fact(name + " is occupied", name + " is not heard to be occupied"));
    clear = network.equation(role + "clear", Words.through(), all(is(known), not(occupied)));
    Variable longEnough =
        network.timer(role + "loss of shunt time", Words.through(), clear, lossOfShunt);
    Variable justCleared =
        network.equation(
            role + "only just clear",
            Words.fact(name + " has only just become clear", name + " is steady"),
            all(is(clear), not(longEnough)));
    vacant = network.equation(role + "vacant", Words.through(), all(is(clear), not(justCleared)));
    held = network.equation(role + "held", Words.through());
  }

  /** It is known to be occupied: what its detector said counts only while it is heard. */
  Expression isOccupied() {
    return all(is(occupied), is(known));
  }

  void define(Circuits circuits) {
    circuits.network.define(
        held,
        any(
            circuits.routesOver(section.id()).stream()
                .<Expression>map(route -> is(route.holds(section.id())))
                .toList()));
  }
}
