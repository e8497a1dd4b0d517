package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
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
 * signal cleared, accepted by a train, released behind it section by section, gone. Each room of it
 * has a circuit of its own.
 */
final class RouteCircuit implements Clearing {

  final RouteRow row;

  /** Someone asks for the route. */
  final Variable asked;

  /** Nothing stands against granting it. */
  final Variable available;

  /** Asked for and available: everything it needs is taken in this tick, or nothing is. */
  final Variable granted;

  /** Everything that a proceed aspect promises is so at this moment. */
  final Variable proved;

  /** Its signal shows a proceed aspect. */
  final Variable proceeds;

  /** Any of its sections is held, or its overlap. */
  final Variable locked;

  final SignalCall call;
  final WaitingCircuit waiting;

  /** Lets a train into its last section although that may be occupied. */
  final Optional<CallOnCircuit> callOn;

  final Optional<OverlapCircuit> overlap;

  /** Its signal is to clear as soon as, and as long as, everything is proved. */
  final Variable signalCalled;

  /** It has been cancelled and waits to be released. */
  final Variable cancelling;

  /** Lined again behind each train, without anyone asking. */
  final Variable fleeted;

  /** Waits to be lined once. */
  final Variable stacked;

  /** Fleeted or stacked: asked for as soon as it is available. */
  final Variable waits;

  private final HeldSections sections;
  private final CancelCircuit cancel;

  RouteCircuit(RouteRow row, NetworkBuilder network) {
    this.row = row;
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";

    asked = network.pulse(role + "asked", Words.through());
    available =
        network.equation(
            role + "available", Words.because(name + " can be lined", name + " cannot be lined"));
    granted = network.equation(role + "granted", Words.through());
    waiting = new WaitingCircuit(row, network);
    callOn = row.callOn().map(aspect -> new CallOnCircuit(name, role, network));
    overlap = row.overlap().map(beyond -> new OverlapCircuit(row, beyond, network));
    call = new SignalCall(row, network);
    proved = network.equation(role + "proved", Words.through());
    proceeds = network.equation(role + "proceeds", Words.through());
    sections = new HeldSections(row, network);
    locked =
        network.equation(
            role + "locked",
            Words.fact(name + " is locked", name + " is not locked"),
            any(allThatItHolds()));
    cancel = new CancelCircuit(row, network);

    signalCalled = call.called;
    cancelling = cancel.cancelling;
    fleeted = waiting.fleeted;
    stacked = waiting.stacked;
    waits = waiting.waits;
  }

  private List<Expression> allThatItHolds() {
    return Stream.concat(sections.holds().stream(), overlap.stream().map(beyond -> beyond.held))
        .<Expression>map(Expression::is)
        .toList();
  }

  /** Its hold on a section of its path. */
  Variable holds(String section) {
    return sections.hold(section);
  }

  /** A train has entered a section of its path. */
  Variable entered(String section) {
    return sections.entered(section);
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
    return sections.accepted();
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
    return sections.areRunThrough();
  }

  /** That it is given up after a cancelling. */
  Expression isGivenUp() {
    return cancel.isGivenUp();
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    List<Expression> demands = new Demands(this, circuits).besidesSections();
    List<Expression> vacancies = new Proof(row, circuits).vacant(row.path());
    network.define(available, all(join(demands, vacancies)));
    callOn.ifPresent(call -> call.define(this, join(demands, allButLast(vacancies)), network));
    network.define(
        granted,
        any(all(is(asked), is(available)), callOn.map(CallOnCircuit::isGranted).orElse(never())));
    network.define(proved, all(proofs(vacancies, circuits)));
    network.define(proceeds, all(is(call.called), is(proved), not(accepted())));

    call.define(this, circuits);
    sections.define(this, circuits);
    overlap.ifPresent(beyond -> beyond.define(this, circuits));
    cancel.define(this, circuits);
    waiting.define(this, circuits);
  }

  /** Held, called and proved; who is called on may find the last section occupied. */
  private List<Expression> proofs(List<Expression> vacancies, Circuits circuits) {
    List<Expression> proofs = new Proof(row, circuits).besidesSections();
    sections.holds().forEach(hold -> proofs.add(is(hold)));
    proofs.addAll(allButLast(vacancies));
    proofs.add(any(vacancies.get(vacancies.size() - 1), callsOn()));
    row.callOn()
        .map(circuits.signal(row.from()).lamps::canShow)
        .ifPresent(shown -> proofs.add(any(not(callsOn()), shown)));
    proofs.addAll(circuits.lineside.proofsOf(this, circuits));
    return proofs;
  }

  private static List<Expression> allButLast(List<Expression> expressions) {
    return expressions.subList(0, expressions.size() - 1);
  }

  private static List<Expression> join(List<Expression> some, List<Expression> more) {
    return Stream.concat(some.stream(), more.stream()).toList();
  }
}
