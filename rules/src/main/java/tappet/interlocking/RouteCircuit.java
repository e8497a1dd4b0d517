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
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * One route, in the trade's order: asked for, granted, switches called and sections held, proved,
 * signal cleared, accepted by a train, released behind it section by section, gone.
 */
final class RouteCircuit implements Clearing {

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

  /** Lined again behind each train, without anyone asking. */
  final Variable fleeted;

  /** Waits to be lined once. */
  final Variable stacked;

  /** Fleeted or stacked: asked for as soon as it is available. */
  final Variable waits;

  /** Someone asks for it to be fleeted. */
  final Variable fleetAsked;

  /** Someone asks for it to be stacked. */
  final Variable stackAsked;

  /** Lets a train into its last section although that may be occupied. */
  final Optional<CallOnCircuit> callOn;

  private final Optional<OverlapCircuit> overlap;
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
    fleetAsked = network.pulse(role + "fleet asked", Words.through());
    stackAsked = network.pulse(role + "stack asked", Words.through());
    fleeted =
        network.latch(role + "fleeted", Words.fact(name + " is fleeted", name + " is not fleeted"));
    stacked =
        network.latch(role + "stacked", Words.fact(name + " is stacked", name + " is not stacked"));
    waits = network.equation(role + "waits", Words.through(), any(is(fleeted), is(stacked)));
    callOn = row.callOn().map(aspect -> new CallOnCircuit(name, role, network));
    overlap = row.overlap().map(beyond -> new OverlapCircuit(row, beyond, network));
    canClearAgain = network.equation(role + "can clear again", Words.through());
    clearedAgain = network.equation(role + "cleared again", Words.through());
    signalCalled =
        network.latch(
            role + "signal called",
            Words.fact(
                "its signal is called",
                "its signal has been put back to stop; line the route again to clear it"));
    proved = network.equation(role + "proved", Words.through());
    proceeds = network.equation(role + "proceeds", Words.through());
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
            any(
                Stream.concat(holds.values().stream(), overlap.stream().map(beyond -> beyond.held))
                    .<Expression>map(Expression::is)
                    .toList()));
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

  /** A train has entered a section of its path. */
  Variable entered(String section) {
    return entered.get(section);
  }

  /** How it wants a switch to lie, on its path or beside it; empty where it does not care. */
  Optional<Position> positionOf(Switch toe) {
    return Optional.ofNullable(row.switches().get(toe.id()))
        .or(() -> Optional.ofNullable(row.flank().get(toe.id())));
  }

  /** What of it holds a switch: its section where it is run over, all of the route beside it. */
  List<Expression> claimsOn(Switch toe) {
    List<Expression> claims = new ArrayList<>();
    if (row.switches().containsKey(toe.id())) {
      claims.add(is(holds(toe.section())));
    }
    if (row.flank().containsKey(toe.id())) {
      claims.add(is(locked));
    }
    return claims;
  }

  /** A train has passed its signal. */
  Variable accepted() {
    return entered.get(first());
  }

  @Override
  public RouteRow row() {
    return row;
  }

  @Override
  public Variable locked() {
    return locked;
  }

  @Override
  public Variable proceeds() {
    return proceeds;
  }

  @Override
  public Optional<Variable> callingOn() {
    return callOn.map(call -> call.stands);
  }

  /** That everything it needs is taken in this tick. */
  Expression isGranted() {
    return is(granted);
  }

  /** That none of its own sections is held any more. */
  Expression isRunThrough() {
    return all(holds.values().stream().<Expression>map(Expression::not).toList());
  }

  /** That it is given up after a cancelling. */
  Expression isGivenUp() {
    return is(givenUp);
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    SignalCircuit signal = circuits.signal(row.from());

    List<Expression> demands = demands(circuits);
    List<Expression> vacancies = new Proof(row, circuits).vacant(row.path());
    network.define(available, all(join(demands, vacancies)));
    callOn.ifPresent(call -> call.define(this, join(demands, allButLast(vacancies)), network));
    network.define(
        granted,
        any(all(is(asked), is(available)), callOn.map(CallOnCircuit::isGranted).orElse(never())));
    network.define(proved, all(proofs(vacancies, circuits)));
    network.define(proceeds, all(is(signalCalled), is(proved), not(accepted())));
    defineWaiting(signal, circuits);
    overlap.ifPresent(beyond -> beyond.define(this, circuits));

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

  /** What must be so before anything is taken, besides the vacancy of its sections. */
  private List<Expression> demands(Circuits circuits) {
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.addAll(circuits.noEmergency());
    row.path().forEach(section -> demands.add(not(circuits.section(section).held)));
    demands.addAll(new Proof(row, circuits).vacant(row.alsoClear()));
    row.switches().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    row.flank().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    demands.addAll(new Proof(row, circuits).locksHold());
    circuits.conflictsOf(row).forEach(other -> demands.add(not(other.locked)));
    circuits.linesOf(row).forEach((line, heading) -> demands.add(not(line.closed(heading))));
    overlap.ifPresent(beyond -> demands.add(not(beyond.held)));
    demands.addAll(circuits.protections.allow(row));
    demands.addAll(circuits.ownersNeeds(row));
    demands.addAll(circuits.lineside.demandsOf(row));
    return demands;
  }

  /** Held, called and proved; who is called on may find the last section occupied. */
  private List<Expression> proofs(List<Expression> vacancies, Circuits circuits) {
    List<Expression> proofs = new Proof(row, circuits).besidesSections();
    holds.values().forEach(hold -> proofs.add(is(hold)));
    proofs.addAll(allButLast(vacancies));
    proofs.add(any(vacancies.get(vacancies.size() - 1), callsOn()));
    row.callOn()
        .map(circuits.signal(row.from()).lamps::canShow)
        .ifPresent(shown -> proofs.add(any(not(callsOn()), shown)));
    proofs.addAll(circuits.lineside.proofsOf(this, circuits));
    return proofs;
  }

  /**
   * What is fleeted or stacked is forgotten when something becomes unknown, an emergency is called
   * or people come to be protected: nothing clears again by itself then.
   */
  private void defineWaiting(SignalCircuit signal, Circuits circuits) {
    List<Expression> interruptions = new ArrayList<>();
    circuits.emergencies.values().forEach(kind -> interruptions.add(is(kind.stands)));
    row.path().forEach(section -> interruptions.add(not(circuits.section(section).known)));
    circuits.protections.allow(row).forEach(free -> interruptions.add(not(free)));
    interruptions.add(is(signal.cancelled));
    Expression interrupted = any(interruptions);
    circuits.network.define(
        fleeted,
        all(is(fleetAsked), any(is(granted), is(clearedAgain), is(signalCalled))),
        any(interrupted, is(signal.unfleeted)));
    circuits.network.define(
        stacked, is(stackAsked), any(interrupted, is(signal.unstacked), is(granted)));
  }

  private static List<Expression> allButLast(List<Expression> expressions) {
    return expressions.subList(0, expressions.size() - 1);
  }

  private static List<Expression> join(List<Expression> some, List<Expression> more) {
    return Stream.concat(some.stream(), more.stream()).toList();
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

  /** The train that another is called on to is no train of this route. */
  private Expression nothingInside(Circuits circuits) {
    List<Expression> empty = new ArrayList<>();
    for (String section : row.path()) {
      boolean last = section.equals(last());
      empty.add(
          any(
              not(holds(section)),
              is(circuits.section(section).vacant),
              last ? all(callsOn(), not(accepted())) : never()));
    }
    return all(empty);
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
        entered.get(section), all(trainHasComeHere, here.isOccupied()), not(locked));
  }

  private String first() {
    return row.path().get(0);
  }

  private String last() {
    return row.path().get(row.path().size() - 1);
  }
}
