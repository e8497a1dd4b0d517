package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * One route, in the trade's order: asked for, granted, switches called and sections held, proved,
 * signal cleared, accepted by a train, released behind it section by section, gone.
 */
final class RouteCircuit {

  final RouteRow row;

  /** Someone asks for the route. */
  final Variable asked;

  /** Nothing stands against granting it. */
  final Variable available;

  /** Asked for and available: everything it needs is taken in this tick, or nothing is. */
  final Variable granted;

  /** Held whole and unused with its signal put back: asking once more clears the signal again. */
  final Variable canClearAgain;

  /** Its signal is to clear as soon as, and as long as, everything is proved. */
  final Variable signalCalled;

  /** Everything that a proceed aspect promises is so at this moment. */
  final Variable proved;

  /** Its signal shows a proceed aspect. */
  final Variable proceeds;

  /** A proceed aspect has been shown since it was granted: a train may have accepted it. */
  final Variable shown;

  /** Any of its sections is held. */
  final Variable locked;

  /** It has been cancelled and waits to be released. */
  final Variable cancelling;

  private final Variable clearedAgain;
  private final Variable timeRun;
  private final Variable givenUp;
  private final Map<String, Variable> holds = new LinkedHashMap<>();
  private final Map<String, Variable> entered = new LinkedHashMap<>();

  RouteCircuit(RouteRow row, NetworkBuilder network) {
    this.row = row;
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";

    asked = network.pulse(role + "asked", Words.through());
    available =
        network.equation(
            role + "available", Words.because(name + " can be lined", name + " cannot be lined"));
    granted = network.equation(role + "granted", Words.through());
    canClearAgain = network.equation(role + "can clear again", Words.through());
    clearedAgain = network.equation(role + "cleared again", Words.through());
    signalCalled =
        network.latch(
            role + "signal called",
            Words.fact(
                "its signal is called",
                "its signal has been put back to stop; line the route again to clear it"));
    proved = network.equation(role + "proved", Words.through());
    proceeds =
        network.equation(role + "proceeds", Words.through(), all(is(signalCalled), is(proved)));
    shown =
        network.latch(
            role + "shown",
            Words.fact(
                "a train may have accepted the signal of " + name,
                "the signal of " + name + " has not been shown"));
    for (String section : row.path()) {
      String held = "section " + section + " is held by " + name;
      String notHeld = "section " + section + " is no longer held by " + name;
      holds.put(section, network.latch(role + "holds " + section, Words.fact(held, notHeld)));
      entered.put(
          section,
          network.latch(
              role + "train in " + section,
              Words.fact(
                  "a train on " + name + " has entered section " + section,
                  "no train on " + name + " has entered section " + section)));
    }
    locked =
        network.equation(
            role + "locked",
            Words.fact(name + " is locked", name + " is not locked"),
            any(holds.values().stream().<Expression>map(Expression::is).toList()));
    cancelling =
        network.latch(
            role + "cancelling",
            Words.fact(name + " is being cancelled", name + " is not being cancelled"));
    timeRun =
        network.timer(
            role + "release time",
            Words.fact(
                "the release time of " + name + " has run",
                "the release time of " + name + " runs"),
            cancelling,
            row.release());
    givenUp = network.equation(role + "given up", Words.through());
  }

  /** Its hold on a section of its path. */
  Variable holds(String section) {
    return holds.get(section);
  }

  /** A train has passed its signal. */
  Variable accepted() {
    return entered.get(first());
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    SignalCircuit signal = circuits.signal(row.from());

    network.define(available, all(demands(circuits)));
    network.define(granted, all(is(asked), is(available)));
    network.define(proved, all(proofs(circuits)));

    network.define(canClearAgain, all(wholeAndUnused()));
    network.define(clearedAgain, all(is(asked), is(canClearAgain)));
    network.define(
        signalCalled,
        any(is(granted), is(clearedAgain)),
        any(
            is(signal.cancelled),
            is(accepted()),
            failedAfterBeingShown(),
            is(circuits.protections.blockedSignal(row.from()))));
    network.define(shown, is(proceeds), not(locked));

    network.define(
        cancelling, all(is(signal.cancelled), is(locked)), any(is(clearedAgain), not(locked)));
    network.define(givenUp, all(is(cancelling), nothingInside(circuits), noTrainCanCome(circuits)));

    for (int index = 0; index < row.path().size(); index++) {
      defineHold(index, circuits);
    }
  }

  /** What must be so before anything is taken. */
  private List<Expression> demands(Circuits circuits) {
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.addAll(circuits.noEmergency());
    row.path().forEach(section -> demands.add(not(circuits.section(section).held)));
    demands.addAll(sectionsVacant(circuits));
    row.switches().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    row.flank().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    circuits.conflictsOf(row).forEach(other -> demands.add(not(other.locked)));
    demands.addAll(circuits.protections.allow(row));
    demands.addAll(circuits.ownersNeeds(row));
    return demands;
  }

  /** 49 CFR 236.303, 236.311: held, vacant, every switch called and detected, the owner content. */
  private List<Expression> proofs(Circuits circuits) {
    List<Expression> proofs = new ArrayList<>(circuits.noEmergency());
    holds.values().forEach(hold -> proofs.add(is(hold)));
    proofs.addAll(sectionsVacant(circuits));
    row.switches().forEach((id, at) -> proofs.add(is(circuits.toe(id).inPlace(at))));
    row.flank().forEach((id, at) -> proofs.add(is(circuits.toe(id).inPlace(at))));
    proofs.addAll(circuits.protections.allow(row));
    proofs.addAll(circuits.ownersNeeds(row));
    return proofs;
  }

  private List<Expression> sectionsVacant(Circuits circuits) {
    List<Expression> vacant = new ArrayList<>();
    row.path().forEach(section -> vacant.add(is(circuits.section(section).vacant)));
    row.alsoClear().forEach(section -> vacant.add(is(circuits.section(section).vacant)));
    return vacant;
  }

  private List<Expression> wholeAndUnused() {
    return List.of(is(proved), not(signalCalled), not(accepted()));
  }

  /**
   * Nothing re-clears by itself: what was shown and is no longer proved must be asked for again.
   */
  private Expression failedAfterBeingShown() {
    return all(is(shown), is(signalCalled), not(proved));
  }

  private Expression nothingInside(Circuits circuits) {
    return all(
        row.path().stream()
            .map(section -> any(not(holds(section)), is(circuits.section(section).vacant)))
            .toList());
  }

  /**
   * Time locking, or approach locking where the row names the sections of the approach (49 CFR
   * 236.305): a train that may have seen the signal gets the time to pass or to stop.
   */
  private Expression noTrainCanCome(Circuits circuits) {
    return any(is(timeRun), not(shown), approachClear(circuits));
  }

  private Expression approachClear(Circuits circuits) {
    if (row.approach().isEmpty()) {
      return never();
    }
    List<Expression> clear = new ArrayList<>();
    clear.add(not(accepted()));
    row.approach().forEach(section -> clear.add(is(circuits.section(section).vacant)));
    return all(clear);
  }

  /**
   * Sectional release (49 CFR 236.767): a section is let go when the train has been in it and in
   * the next one, has left it, and the one before is free. The last one is let go when the train
   * stands in it alone: from then on its occupancy protects it.
   */
  private void defineHold(int index, Circuits circuits) {
    String section = row.path().get(index);
    SectionCircuit here = circuits.section(section);
    boolean last = index == row.path().size() - 1;

    List<Expression> trainHasPassed = new ArrayList<>();
    trainHasPassed.add(is(entered.get(last ? section : row.path().get(index + 1))));
    if (!last) {
      trainHasPassed.add(is(here.vacant));
    }
    Expression trainHasComeHere = is(holds(first()));
    if (index > 0) {
      trainHasPassed.add(not(holds(row.path().get(index - 1))));
      trainHasComeHere = is(entered.get(row.path().get(index - 1)));
    }
    circuits.network.define(holds(section), is(granted), any(is(givenUp), all(trainHasPassed)));
    circuits.network.define(
        entered.get(section), all(trainHasComeHere, is(here.occupied)), not(locked));
  }

  private String first() {
    return row.path().get(0);
  }
}
