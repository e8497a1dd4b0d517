package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Opening;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;
import tappet.sentence.Condition.OpeningState;

/**
 * An opening, interlocked both ways with the signals that read over it: none clears unless it is
 * closed and locked (49 CFR 236.312), and it is not unlocked while any may have been accepted. One
 * without a lock is detected only; whoever opens it puts the signals to Stop.
 */
final class OpeningCircuit implements LinesideCircuit {

  final Opening opening;

  /** A person asks for the bolt to go home. */
  final Variable askedToLock;

  /** A person asks for the bolt to be drawn. */
  final Variable askedToUnlock;

  /** It is closed, so that the bolt meets its hole. */
  final Variable canBeLocked;

  /** Nothing reads over it and nothing stands on it. */
  final Variable canBeUnlocked;

  /** True for one tick when the bolt is to go home. */
  final Variable sentLocked;

  /** True for one tick when the bolt is to be drawn. */
  final Variable sentUnlocked;

  /** It is open, and nobody was given leave to open it. */
  final Variable openWithoutLeave;

  /** Its bolt has not come to where it was sent within its time. */
  final Optional<Variable> outOfCorrespondence;

  private final Indication leaf;
  private final Optional<Indication> bolt;
  private final Variable calledLocked;
  private final Variable calledUnlocked;
  private final Variable secured;

  /** What says that a train may have accepted a signal that reads over it. */
  private final Set<Variable> trainsMayCome = new LinkedHashSet<>();

  OpeningCircuit(Opening opening, NetworkBuilder network) {
    this.opening = opening;
    String name = Naming.opening(opening);
    String role = opening.key() + ": ";
    leaf = new Indication(role, name, "closed", "open", network);
    bolt = opening.lock().map(any -> new Indication(role, name, "locked", "unlocked", network));
    askedToLock = network.pulse(role + "asked to lock", Words.through());
    askedToUnlock = network.pulse(role + "asked to unlock", Words.through());
    canBeLocked =
        network.equation(
            role + "can be locked",
            Words.because(name + " can be locked", name + " cannot be locked"),
            leaf.isOne());
    canBeUnlocked =
        network.equation(
            role + "can be unlocked",
            Words.because(name + " can be unlocked", name + " cannot be unlocked"));
    sentLocked =
        network.equation(
            role + "sent locked", Words.through(), all(is(askedToLock), is(canBeLocked)));
    sentUnlocked =
        network.equation(
            role + "sent unlocked", Words.through(), all(is(askedToUnlock), is(canBeUnlocked)));
    calledLocked = network.latch(role + "called locked", Words.through());
    calledUnlocked =
        network.latch(
            role + "called unlocked",
            Words.fact("leave was given to open " + name, "no leave was given to open " + name));
    network.define(calledLocked, is(sentLocked), is(sentUnlocked));
    network.define(calledUnlocked, is(sentUnlocked), is(sentLocked));
    secured = network.equation(role + "secured", Words.through(), all(secureParts()));
    openWithoutLeave =
        network.equation(
            role + "open without leave",
            Words.fact(name + " is open without leave", name + " is not open without leave"));
    outOfCorrespondence =
        opening.lock().map(lock -> correspondenceAlarm(role, name, lock, network));
  }

  private List<Expression> secureParts() {
    List<Expression> parts = new ArrayList<>();
    parts.add(leaf.isOne());
    bolt.ifPresent(home -> parts.add(home.isOne()));
    parts.add(not(calledUnlocked));
    return parts;
  }

  /** 49 CFR 236.11: a bolt that does not follow is told. */
  private Variable correspondenceAlarm(
      String role, String name, Opening.Lock lock, NetworkBuilder network) {
    Indication home = bolt.orElseThrow();
    Variable disagrees =
        network.equation(
            role + "disagrees",
            Words.through(),
            any(
                all(is(calledLocked), not(home.isOne())),
                all(is(calledUnlocked), not(home.isOther()))));
    return network.timer(
        role + "lock time",
        Words.fact(
            "the lock of " + name + " is out of correspondence",
            "the lock of " + name + " is in correspondence"),
        disagrees,
        lock.time());
  }

  /** Closed, locked where it has a lock, and not about to be unlocked. */
  Variable secured() {
    return secured;
  }

  /** Whether a route leads over it or wants its sections clear. */
  boolean liesUnder(RouteRow row) {
    return opening.sections().stream()
        .anyMatch(section -> row.path().contains(section) || row.alsoClear().contains(section));
  }

  /** It is known to be in that state, or known not to be. */
  Expression holds(OpeningState state, boolean wanted) {
    return switch (state) {
      case CLOSED -> leaf.isOne(wanted);
      case OPEN -> leaf.isOne(!wanted);
      case LOCKED -> bolt.map(home -> home.isOne(wanted)).orElse(never());
      case UNLOCKED -> bolt.map(home -> home.isOne(!wanted)).orElse(never());
    };
  }

  /** Whether it is closed now; empty where nothing is known. */
  Optional<Boolean> closed(Stepper stepper) {
    return leaf.now(stepper);
  }

  /** Whether its bolt is home now; empty where nothing is known, or it has none. */
  Optional<Boolean> locked(Stepper stepper) {
    return bolt.flatMap(home -> home.now(stepper));
  }

  void layLeaf(Optional<Boolean> isClosed, Stepper stepper) {
    leaf.lay(isClosed, stepper);
  }

  void layBolt(Optional<Boolean> isLocked, Stepper stepper) {
    bolt.ifPresent(home -> home.lay(isLocked, stepper));
  }

  @Override
  public void define(Circuits circuits) {
    circuits.clearings().stream()
        .filter(way -> liesUnder(way.row()))
        .forEach(way -> trainsMayCome.addAll(trainsMayComeBy(way, circuits)));
    NetworkBuilder network = circuits.network;
    network.define(canBeUnlocked, all(demandsToUnlock(circuits)));
    network.define(
        openWithoutLeave,
        bolt.isPresent()
            ? all(leaf.isOther(), not(calledUnlocked))
            : all(leaf.isOther(), any(inUse(circuits))));
  }

  /**
   * A route stays locked while its release time runs, so that a train that comes has stopped. One
   * that runs on an automatic signal, or past it by sight, comes for as long as the traffic of its
   * line stands, also when the signals are no longer called.
   */
  private static List<Variable> trainsMayComeBy(Clearing way, Circuits circuits) {
    List<Variable> mayCome = new ArrayList<>();
    if (way.row().automatic()) {
      circuits.linesOf(way.row()).forEach((line, heading) -> mayCome.add(line.mayCome(heading)));
    } else {
      mayCome.add(way.locked());
    }
    return mayCome;
  }

  private List<Expression> demandsToUnlock(Circuits circuits) {
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.addAll(circuits.noEmergency());
    trainsMayCome.forEach(comes -> demands.add(not(comes)));
    opening.sections().forEach(id -> demands.add(is(circuits.section(id).vacant)));
    return demands;
  }

  private List<Expression> inUse(Circuits circuits) {
    List<Expression> uses = new ArrayList<>();
    trainsMayCome.forEach(comes -> uses.add(is(comes)));
    opening.sections().forEach(id -> uses.add(circuits.section(id).isOccupied()));
    return uses;
  }

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    List<Explanation> reasons = new ArrayList<>();
    bolt.ifPresent(home -> reasons.add(Explanation.fact(home.words(stepper))));
    if (stepper.value(openWithoutLeave)) {
      reasons.add(Explanation.fact(openWithoutLeave.words().whenTrue()));
    }
    outOfCorrespondence
        .filter(stepper::value)
        .ifPresent(late -> reasons.add(Explanation.fact(late.words().whenTrue())));
    if (bolt.isPresent()) {
      reasons.add(
          stepper.value(canBeUnlocked)
              ? Explanation.fact(canBeUnlocked.words().whenTrue())
              : explainer.explain(canBeUnlocked));
    }
    return new Explanation(leaf.words(stepper), reasons);
  }
}
