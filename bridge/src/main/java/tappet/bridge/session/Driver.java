package tappet.bridge.session;

import java.util.ArrayDeque;
import java.util.BitSet;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import tappet.rules.RouteRow;
import tappet.simulator.TrainState;
import tappet.simulator.TrainState.Activity;

/** Makes the moves that its train is given, one after the other. */
final class Driver {

  /** How fast a train slows, in m/s²: as the simulator's engineers brake. */
  private static final double BRAKE = 0.2;

  /** A halted train stands at least that much short of the joint, in metres. */
  private static final double HALT_SHORT_METRES = 0.1;

  private static final long ASK_AGAIN_NS = TimeUnit.SECONDS.toNanos(15);
  private static final long PATIENCE_NS = TimeUnit.SECONDS.toNanos(120);
  private static final long CANCEL_AGAIN_NS = TimeUnit.SECONDS.toNanos(60);

  private final String train;
  private final Orders orders;
  private final Pace pace;
  private final Leftovers leftovers;
  private final Deque<Leg> legs = new ArrayDeque<>();
  private Stand stand;

  Driver(String train, Stand stand, Orders orders, Pace pace, Leftovers leftovers) {
    this.train = train;
    this.stand = stand;
    this.orders = orders;
    this.pace = pace;
    this.leftovers = leftovers;
  }

  /** Where the train stands, or will once its moves are made. */
  Stand stand() {
    return stand;
  }

  /** The train stands there now, and has no move to make. */
  void beginAt(Stand there) {
    legs.clear();
    stand = there;
  }

  /** Whether it has made every move. */
  boolean isThere() {
    return legs.isEmpty();
  }

  /** Whether it is on the way of its only move, so that the next can be prepared. */
  boolean isComing() {
    return legs.size() == 1
        && legs.element().isEntered()
        && !legs.element().isHalted()
        && !(legs.element().move() instanceof Move.ByHand);
  }

  void give(Move move, long nowNs) {
    legs.add(new Leg(move, stand, nowNs));
    stand = move.to();
  }

  /** The move at hand has been made. */
  void finish(long nowNs) {
    if (legs.remove().move() instanceof Move.Over over) {
      leftovers.add(over.rows(), nowNs);
    }
  }

  /** The routes of the moves that are to be made. */
  List<RouteRow> rows() {
    return legs.stream()
        .map(Leg::move)
        .filter(Move.Over.class::isInstance)
        .flatMap(move -> ((Move.Over) move).rows().stream())
        .toList();
  }

  /**
   * Drives on; a move by hand is the crew's to make.
   *
   * @return what the train waits for, where it does
   */
  Optional<String> drive(TrainState state, Sight sight) {
    finishPassed(state, sight);
    Leg leg = legs.element();
    if (isUnderWay(leg) && leg.move().path().contains(headSection(state))) {
      leg.enter();
    }
    if (leg.move() instanceof Move.ByHand) {
      return Optional.empty();
    }
    if (hasArrived(state)) {
      finish(sight.nowNs());
      pace.takeAMoment(sight.nowNs());
      return Optional.empty();
    }
    haltInTime(state, sight);
    return leg.move() instanceof Move.Over over
        ? run(leg, over, state, sight)
        : turn(leg, state, sight);
  }

  /** A train whose head is on the way of its last move has made those before it. */
  private void finishPassed(TrainState state, Sight sight) {
    Leg last = legs.getLast();
    String head = headSection(state);
    boolean onLast =
        last.move().path().contains(head) && !legs.element().move().path().contains(head);
    while (onLast && legs.element() != last) {
      finish(sight.nowNs());
    }
  }

  private static boolean isUnderWay(Leg leg) {
    return !(leg.move() instanceof Move.Turn) || leg.isToldToTurn();
  }

  private static String headSection(TrainState state) {
    return state.sections().get(state.sections().size() - 1);
  }

  /** Whether the move at hand has brought the train where it leads, and it stands there. */
  boolean hasArrived(TrainState state) {
    Leg leg = legs.element();
    Stand to = leg.move().to();
    boolean stays =
        leg.isHalted()
            || state.activity() == Activity.WAITING_AT_SIGNAL
            || state.activity() == Activity.AT_END_OF_TRACK;
    return stays
        && state.speedMetresPerSecond() == 0
        && state.nextJoint().equals(to.head())
        && headSection(state).equals(to.section());
  }

  /** Where neither a signal nor the end of track keeps the train, its crew halts it. */
  private void haltInTime(TrainState state, Sight sight) {
    Leg last = legs.getLast();
    double speed = state.speedMetresPerSecond();
    double braking = speed * speed / (2 * BRAKE) + speed * Dispatcher.LOOK_SECONDS;
    if (!isHeld(sight)
        && !last.isHalted()
        && isUnderWay(last)
        && state.nextJoint().equals(stand.head())
        && headSection(state).equals(stand.section())
        && state.metresToJoint() <= braking + HALT_SHORT_METRES
        && orders.halt(train).isEmpty()) {
      last.halt();
    }
  }

  /** A signal whose board has fallen silent may show what was meant for the train before. */
  private boolean isHeld(Sight sight) {
    return stand.isHeldByItself()
        && stand.signals().stream().noneMatch(sight.proceeding()::contains);
  }

  private Optional<String> turn(Leg leg, TrainState state, Sight sight) {
    if (!leg.isToldToTurn()
        && state.speedMetresPerSecond() == 0
        && pace.isReady(sight.nowNs())
        && orders.run(train, Optional.of(state.heading().opposite())).isEmpty()) {
      leg.tellToTurn();
    } else if (leg.isToldToTurn() && !leg.isHalted()) {
      setOff(state, sight);
    }
    return Optional.empty();
  }

  private Optional<String> run(Leg leg, Move.Over over, TrainState state, Sight sight) {
    if (leg.isEntered()) {
      return goOn(leg, over, state, sight);
    }
    if (leg.isGivenUp()) {
      return forget(leg, over.first(), sight);
    }
    setOff(state, sight);
    return mindSignal(leg, over.first(), state, sight);
  }

  /** A train that was stopped on its way goes on only by a route that is still locked for it. */
  private Optional<String> goOn(Leg leg, Move.Over over, TrainState state, Sight sight) {
    boolean locked = over.rows().stream().anyMatch(row -> sight.locked().contains(row.id()));
    if (locked && !leg.isHalted()) {
      setOff(state, sight);
    }
    boolean stranded = !locked && !leg.isHalted() && state.activity() == Activity.STANDING;
    return Optional.of("its route is gone").filter(why -> stranded);
  }

  private void setOff(TrainState state, Sight sight) {
    if (state.activity() == Activity.STANDING
        && pace.isReady(sight.nowNs())
        && orders.run(train, Optional.empty()).isPresent()) {
      pace.askLater(sight.nowNs());
    }
  }

  /** A signal that does not clear is asked for once more, and given up when it never does. */
  private Optional<String> mindSignal(Leg leg, RouteRow row, TrainState state, Sight sight) {
    boolean waits = state.waitsFor().equals(Optional.of(row.from()));
    if (!waits || row.automatic() || sight.proceeding().contains(row.from())) {
      return Optional.empty();
    }
    if (sight.nowNs() - leg.givenNs() > PATIENCE_NS) {
      leg.giveUp();
      leg.ask(sight.nowNs());
      Orders.tryTo(() -> orders.cancel(row, train));
    } else if (sight.nowNs() - leg.askedNs() > ASK_AGAIN_NS) {
      leg.ask(sight.nowNs());
      Orders.tryTo(() -> orders.line(row, train));
    }
    return Optional.of("signal %s has not cleared".formatted(row.from()));
  }

  /** The train stays where it is once the route is gone; until then it may still take it. */
  private Optional<String> forget(Leg leg, RouteRow row, Sight sight) {
    if (!sight.locked().contains(row.id())) {
      beginAt(leg.from());
      pace.askLater(sight.nowNs());
    } else if (sight.nowNs() - leg.askedNs() > CANCEL_AGAIN_NS) {
      leg.ask(sight.nowNs());
      Orders.tryTo(() -> orders.cancel(row, train));
    }
    return Optional.of("route %s is given up".formatted(row.id()));
  }

  /**
   * The sections that the moves still need.
   *
   * @param under the sections under the train
   */
  BitSet needs(List<String> under, RouteBook.Numbering numbering) {
    BitSet needs = new BitSet();
    for (Leg leg : legs) {
      boolean whole = !leg.isEntered() || under.isEmpty() || leg.move() instanceof Move.ByHand;
      List<String> path = leg.move().path();
      int head = whole ? 0 : Math.max(0, path.indexOf(under.get(under.size() - 1)));
      needs.or(whole ? leg.move().needs() : numbering.set(path.subList(head, path.size())));
    }
    return needs;
  }
}
