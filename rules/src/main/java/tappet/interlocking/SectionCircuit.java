package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.time.Duration;
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

  SectionCircuit(Section section, Duration lossOfShunt, NetworkBuilder network) {
    this.section = section;
    String name = Naming.section(section);
    String role = "section " + section.id() + ": ";

    known =
        network.input(role + "known", Words.fact(name + " reports", name + " has not reported"));
    occupied =
        network.input(
            role + "occupied", Words.fact(name + " is occupied", name + " is not occupied"));
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

  void define(Circuits circuits) {
    circuits.network.define(
        held,
        any(
            circuits.routesOver(section.id()).stream()
                .<Expression>map(route -> is(route.holds(section.id())))
                .toList()));
  }
}
