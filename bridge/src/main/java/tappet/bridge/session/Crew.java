package tappet.bridge.session;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.rules.RouteRow;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;
import tappet.simulator.TrainState.Activity;
import tappet.simulator.session.ListedTrain;

/**
 * A train with its people: does what the dispatcher has given it to do, works where it calls, and
 * knows what track it needs for that.
 */
final class Crew {

  /** What a crew is about. */
  enum Duty {
    /** The train is off the track. */
    AWAY,
    /** It is through with its run, and stays where it is. */
    PARKED,
    /** It is on its run. */
    ON_THE_WAY
  }

  private static final int SLOW_FROM_S = 1;
  private static final int SLOW_TO_S = 5;
  private static final int AGAIN_FROM_S = 5;
  private static final int AGAIN_TO_S = 15;

  /** How fast a train slows, in m/s²: what {@link tappet.simulator} says of its engineers. */
  private static final double BRAKE = 0.2;

  /** A halted train stands at least that much short of the joint, in metres. */
  private static final double HALT_SHORT_METRES = 0.1;

  private static final long ASK_AGAIN_NS = TimeUnit.SECONDS.toNanos(15);
  private static final long PATIENCE_NS = TimeUnit.SECONDS.toNanos(120);
  private static final int CANCELLED_IN_VAIN = 2;
  private static final long STALE_NS = TimeUnit.SECONDS.toNanos(60);

  private final ListedTrain train;
  private final int number;
  private final Itinerary itinerary;
  private final Layout layout;
  private final RouteBook.Numbering numbering;
  private final Orders orders;
  private final Journal journal;
  private final Chance chance;
  private final FastTime clock;
  private final Deque<Leg> legs = new ArrayDeque<>();
  private final Deque<Chore> chores = new ArrayDeque<>();
  private final List<Used> used = new ArrayList<>();
  private final List<Run> runs = new ArrayList<>();
  private Duty duty = Duty.AWAY;
  private Stand stand;
  private int goal;
  private BitSet working = new BitSet();
  private BitSet held = new BitSet();
  private BitSet takenByOthers = new BitSet();
  private Sight sight;
  private Optional<String> waitsFor = Optional.empty();
  private long readyNs;
  private int runsEnded;

  /** Its people have taken it off the track, and will put it back. */
  private boolean inHand;

  /** A row that was lined for the train and that it has left behind. */
  private record Used(RouteRow row, long sinceNs, int cancelled) {
    Used cancelledAt(long nowNs) {
      return new Used(row, nowNs, cancelled + 1);
    }
  }

  /** What every crew of a session shares. */
  record Company(
      Layout layout,
      RouteBook.Numbering numbering,
      Orders orders,
      Journal journal,
      Chance chance,
      FastTime clock) {}

  Crew(ListedTrain train, int number, Itinerary itinerary, Company company) {
    this.train = train;
    this.number = number;
    this.itinerary = itinerary;
    this.layout = company.layout();
    this.numbering = company.numbering();
    this.orders = company.orders();
    this.journal = company.journal();
    this.chance = company.chance();
    this.clock = company.clock();
    this.stand = itinerary.beginning();
    this.goal = itinerary.goals().size();
  }

  ListedTrain train() {
    return train;
  }

  String name() {
    return train.name();
  }

  Itinerary itinerary() {
    return itinerary;
  }

  Duty duty() {
    return duty;
  }

  /** Where it stands, or will once its moves are made. */
  Stand stand() {
    return stand;
  }

  /** The first of its goals that it has not met, the number of them where it is through. */
  int goal() {
    return goal;
  }

  List<Run> runs() {
    return runs;
  }

  int runsEnded() {
    return runsEnded;
  }

  /** The sections that nobody else may use; not to be changed. */
  BitSet held() {
    return held;
  }

  void waitFor(String why) {
    waitsFor = Optional.of(why);
  }

  Optional<String> waitsFor() {
    return waitsFor;
  }

  /** What is to be reckoned with of it, if it stands there. */
  Foresight.Claim claim(Stand there, int nextGoal, boolean beginsAgain) {
    boolean lifted = train.then().isLifted();
    return new Foresight.Claim(number, itinerary, there, nextGoal, beginsAgain, lifted);
  }

  // What it sees, and what it does by itself.

  /**
   * Sees how things stand, and does what is to be done.
   *
   * @param othersHold the sections that others use
   */
  void follow(Sight now, long passedNs, BitSet othersHold) {
    sight = now;
    takenByOthers = othersHold;
    if (!runs.isEmpty()) {
      waitsFor.ifPresent(why -> lastRun().waited(why, passedNs));
    }
    waitsFor = Optional.empty();
    if (inHand) {
      doChores();
    } else if (duty != Duty.AWAY && state().isPresent()) {
      state().ifPresent(this::act);
    } else if (duty != Duty.AWAY) {
      leave();
    }
    cancelWhatIsLeft();
    held = holds();
  }

  private Optional<TrainState> state() {
    return Optional.ofNullable(sight.trains().get(name()));
  }

  private Run lastRun() {
    return runs.get(runs.size() - 1);
  }

  private void act(TrainState state) {
    if (!legs.isEmpty()) {
      followLegs(state);
    }
    if (!chores.isEmpty()) {
      doChores();
    } else if (duty == Duty.ON_THE_WAY && legs.isEmpty() && itinerary.isMet(stand, goal)) {
      takeUpWork();
    }
  }

  private void doChores() {
    while (!chores.isEmpty() && readyNs <= sight.nowNs()) {
      Chore chore = chores.element();
      Optional<String> whyNot = chore.attempt().get();
      if (whyNot.isPresent()) {
        if (chore.asks()) {
          rest(AGAIN_FROM_S, AGAIN_TO_S);
          waitFor(whyNot.get());
        }
        return;
      }
      chores.remove();
      if (chore.asks()) {
        rest(SLOW_FROM_S, SLOW_TO_S);
      }
    }
  }

  /** Whether it wants to be told where to go next. */
  boolean wantsOn() {
    if (duty != Duty.ON_THE_WAY || !chores.isEmpty() || readyNs > sight.nowNs()) {
      return false;
    }
    boolean mayLookAhead =
        legs.size() == 1
            && legs.element().isEntered()
            && !legs.element().isHalted()
            && !(legs.element().move() instanceof Move.ByHand);
    return (legs.isEmpty() || mayLookAhead) && !itinerary.isMet(stand, goal);
  }

  /** Whether it stands and can do nothing until it is told where to go next. */
  boolean isAtAStand() {
    return legs.isEmpty();
  }

  /** Takes a moment before the next thing is done. */
  void rest(int fromSeconds, int toSeconds) {
    readyNs = sight.nowNs() + chance.secondsNs(fromSeconds, toSeconds);
  }

  void askLater() {
    rest(AGAIN_FROM_S, AGAIN_TO_S);
  }

  // Its runs.

  /** A run is planned. */
  void plan(long minute) {
    runs.add(new Run(name(), minute));
  }

  /** Begins a run; a train that is off the track is put on it first. */
  Optional<String> begin() {
    if (duty == Duty.AWAY) {
      Optional<String> whyNot = orders.place(specAt(itinerary.beginning()));
      if (whyNot.isPresent()) {
        return whyNot;
      }
      stand = itinerary.beginning();
    }
    duty = Duty.ON_THE_WAY;
    goal = 0;
    lastRun().begin(clock.minutes());
    held.or(stand.covers());
    rest(SLOW_FROM_S, SLOW_TO_S);
    journal.note(name() + " begins its run");
    return Optional.empty();
  }

  /** The train where it stands there, in a plain section. */
  private TrainSpec specAt(Stand there) {
    double east =
        layout.joints().get(there.head()).x()
            - layout.joints().get(there.trail().get(0).entry()).x();
    List<String> ends = layout.sections().get(there.section()).between();
    boolean isEast = east == 0 ? there.head().equals(ends.get(1)) : east > 0;
    return new TrainSpec(
        name(),
        there.section(),
        isEast ? Heading.EAST : Heading.WEST,
        train.lengthMetres(),
        train.speedMetresPerSecond());
  }

  private void endRun() {
    lastRun().end(clock.minutes());
    runsEnded++;
    journal.note(name() + " is through with its run");
    duty = Duty.PARKED;
    if (train.then().isLifted()) {
      long untilNs = sight.nowNs() + STALE_NS;
      chores.add(Chore.await("its route is locked", () -> isClearOfRoutes(untilNs)));
      chores.add(Chore.ask("", () -> orders.lift(name())));
    }
  }

  private boolean isClearOfRoutes(long untilNs) {
    return used.isEmpty() || sight.nowNs() >= untilNs;
  }

  /** It is off the track, whoever has lifted it. */
  private void leave() {
    journal.note(name() + " is off the track");
    runsEnded += duty == Duty.ON_THE_WAY ? 1 : 0;
    duty = Duty.AWAY;
    goal = itinerary.goals().size();
    legs.clear();
    chores.clear();
    working = new BitSet();
  }

  // Its work.

  private void takeUpWork() {
    Itinerary.Goal place = itinerary.goals().get(goal);
    if (!place.needs().isEmpty()) {
      chores.add(Chore.await("others are where it works", () -> claim(place.needs())));
    }
    if (!place.permit().isEmpty()) {
      chores.add(Chore.ask("", () -> orders.grantPermit(name(), place.permit())));
    }
    place.release().ifPresent(toe -> throwReleased(toe, Position.REVERSE));
    chores.add(Chore.await("", () -> work(place)));
    place
        .release()
        .ifPresent(
            toe -> {
              chores.add(Chore.ask("", () -> orders.throwByHand(toe, Position.NORMAL)));
              chores.add(Chore.ask("", () -> orders.secure(toe)));
            });
    if (!place.permit().isEmpty()) {
      chores.add(Chore.ask("", () -> orders.returnPermit(name())));
    }
    chores.add(Chore.await("", this::finishWork));
  }

  private boolean claim(BitSet sections) {
    if (sections.intersects(takenByOthers)) {
      numbering
          .common(sections, takenByOthers)
          .ifPresent(section -> waitFor("others are on %s, where it works".formatted(section)));
      return false;
    }
    working = sections;
    return true;
  }

  private void throwReleased(String toe, Position position) {
    chores.add(Chore.ask("", () -> orders.release(toe, name())));
    chores.add(Chore.ask("", () -> orders.throwByHand(toe, position)));
  }

  /** Begins when it is first asked after, and is over when its time has run. */
  private boolean work(Itinerary.Goal place) {
    if (worksUntil < 0) {
      worksUntil = clock.minutes() + FastTime.minutes(place.work());
    }
    return clock.minutes() >= worksUntil;
  }

  private long worksUntil = -1;

  private boolean finishWork() {
    worksUntil = -1;
    working = new BitSet();
    goal++;
    if (goal == itinerary.goals().size()) {
      endRun();
    } else {
      journal.note("%s is through at %s".formatted(name(), stand.section()));
      rest(SLOW_FROM_S, SLOW_TO_S);
    }
    return true;
  }

  // Its moves.

  /** Is given a move to make, whose route is lined where it has one. */
  void give(Move move) {
    legs.add(new Leg(move, stand, sight.nowNs()));
    stand = move.to();
    held.or(move.needs());
    held.or(stand.covers());
    rest(SLOW_FROM_S, SLOW_TO_S);
    if (move instanceof Move.ByHand byHand) {
      goByHand(byHand);
    }
  }

  private void followLegs(TrainState state) {
    dropPassed(state);
    Leg leg = legs.element();
    String head = headSection(state);
    if (leg.move().path().contains(head) && isUnderWay(leg)) {
      leg.enter();
    }
    if (leg.move() instanceof Move.ByHand) {
      return;
    }
    if (hasArrived(state, leg)) {
      drop(legs.remove());
      rest(SLOW_FROM_S, SLOW_TO_S);
      return;
    }
    haltInTime(state);
    if (leg.move() instanceof Move.Turn && !leg.isToldToTurn()) {
      turn(state, leg);
    } else if (state.activity() == Activity.STANDING && mayRun(leg)) {
      setOff();
    }
    if (leg.move() instanceof Move.Over over && !leg.isEntered()) {
      mindSignal(state, leg, over);
    }
  }

  private static boolean isUnderWay(Leg leg) {
    return !(leg.move() instanceof Move.Turn) || leg.isToldToTurn();
  }

  /** A train whose head is on the way of a later move has made those before it. */
  private void dropPassed(TrainState state) {
    String head = headSection(state);
    Leg last = legs.getLast();
    boolean onLast =
        legs.size() > 1
            && last.move().path().contains(head)
            && !legs.element().move().path().contains(head);
    while (onLast && legs.element() != last) {
      drop(legs.remove());
    }
  }

  private void drop(Leg leg) {
    if (leg.move() instanceof Move.Over over) {
      over.rows().forEach(row -> used.add(new Used(row, sight.nowNs(), 0)));
    }
  }

  private static String headSection(TrainState state) {
    return state.sections().get(state.sections().size() - 1);
  }

  private static boolean hasArrived(TrainState state, Leg leg) {
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

  /** No signal and no end of track keeps the train where it is to stay. */
  private void haltInTime(TrainState state) {
    Leg last = legs.getLast();
    double speed = state.speedMetresPerSecond();
    double brakes = speed * speed / (2 * BRAKE) + speed * Dispatcher.LOOK_SECONDS;
    if (!stand.isHeldByItself()
        && !last.isHalted()
        && state.nextJoint().equals(stand.head())
        && headSection(state).equals(stand.section())
        && isUnderWay(last)
        && state.metresToJoint() <= brakes + HALT_SHORT_METRES
        && orders.halt(name()).isEmpty()) {
      last.halt();
    }
  }

  private void turn(TrainState state, Leg leg) {
    if (state.speedMetresPerSecond() == 0
        && readyNs <= sight.nowNs()
        && orders.run(name(), Optional.of(state.heading().opposite())).isEmpty()) {
      leg.tellToTurn();
    }
  }

  /** One that was stopped on its way goes on only by a route that is still locked for it. */
  private boolean mayRun(Leg leg) {
    if (leg.isHalted() || leg.isGivenUp()) {
      return false;
    }
    return !(leg.move() instanceof Move.Over over)
        || !leg.isEntered()
        || over.rows().stream().anyMatch(row -> sight.locked().contains(row.id()));
  }

  private void setOff() {
    if (readyNs <= sight.nowNs() && orders.run(name(), Optional.empty()).isPresent()) {
      rest(AGAIN_FROM_S, AGAIN_TO_S);
    }
  }

  /** A signal that does not clear is asked for once more, and given up when it never does. */
  private void mindSignal(TrainState state, Leg leg, Move.Over over) {
    RouteRow row = over.first();
    boolean waits = state.waitsFor().equals(Optional.of(row.from()));
    if (leg.isGivenUp()) {
      forget(leg, row);
    } else if (waits && !row.automatic() && !sight.proceeding().contains(row.from())) {
      waitFor("signal %s has not cleared".formatted(row.from()));
      insist(leg, row);
    }
  }

  private void insist(Leg leg, RouteRow row) {
    if (sight.nowNs() - leg.givenNs() > PATIENCE_NS) {
      leg.giveUp();
      leg.ask(sight.nowNs());
      tryTo(() -> orders.cancel(row, name()));
    } else if (sight.nowNs() - leg.askedNs() > ASK_AGAIN_NS) {
      leg.ask(sight.nowNs());
      tryTo(() -> orders.line(row, name()));
    }
  }

  private void forget(Leg leg, RouteRow row) {
    waitFor("route %s is given up".formatted(row.id()));
    if (!sight.locked().contains(row.id())) {
      stand = leg.from();
      legs.clear();
      askLater();
    } else if (sight.nowNs() - leg.askedNs() > STALE_NS) {
      leg.ask(sight.nowNs());
      tryTo(() -> orders.cancel(row, name()));
    }
  }

  /** What is refused is seen to at another look. */
  private static void tryTo(java.util.function.Supplier<Optional<String>> order) {
    Optional<String> unused = order.get();
  }

  /** A route that stays locked behind its train is in the way of others. */
  private void cancelWhatIsLeft() {
    used.removeIf(left -> !sight.locked().contains(left.row().id()) || isUsedAnew(left.row()));
    for (int index = 0; index < used.size(); index++) {
      Used left = used.get(index);
      if (sight.nowNs() - left.sinceNs() > STALE_NS && isLeft(left.row())) {
        used.set(index, left.cancelledAt(sight.nowNs()));
        free(left);
      }
    }
  }

  /**
   * A route whose train has come through unheard, its board silent, is not given up while the train
   * stands in its last section: then the crew takes the train off the track until it is.
   */
  private void free(Used left) {
    boolean isIdle = duty != Duty.AWAY && legs.isEmpty() && chores.isEmpty();
    if (left.cancelled() >= CANCELLED_IN_VAIN && isIdle && isOnPlainTrack()) {
      takeInHandUntilGone(left.row());
    } else if (!left.row().automatic()) {
      tryTo(() -> orders.cancel(left.row(), name()));
    }
  }

  private boolean isOnPlainTrack() {
    return stand.trail().size() == 1 && !layout.sections().get(stand.section()).between().isEmpty();
  }

  private void takeInHandUntilGone(RouteRow row) {
    chores.add(Chore.ask("", this::takeInHand));
    chores.add(Chore.await("its route is locked", () -> !sight.locked().contains(row.id())));
    chores.add(Chore.ask("", this::putBack));
  }

  private Optional<String> takeInHand() {
    Optional<String> whyNot = orders.lift(name());
    inHand = whyNot.isEmpty();
    return whyNot;
  }

  private Optional<String> putBack() {
    Optional<String> whyNot = orders.place(specAt(stand));
    inHand = whyNot.isPresent();
    return whyNot;
  }

  private boolean isUsedAnew(RouteRow row) {
    return legs.stream()
        .anyMatch(leg -> leg.move() instanceof Move.Over over && over.rows().contains(row));
  }

  private boolean isLeft(RouteRow row) {
    List<String> under = state().map(TrainState::sections).orElse(List.of());
    return under.size() <= 1 || under.stream().noneMatch(row.path()::contains);
  }

  // Over a switch by hand.

  private void goByHand(Move.ByHand move) {
    Function<TrainState, Optional<Heading>> heading =
        state -> move.out() ? Optional.of(state.heading().opposite()) : Optional.empty();
    throwReleased(move.toe(), move.forSpur());
    chores.add(
        Chore.ask("", () -> state().flatMap(state -> orders.run(name(), heading.apply(state)))));
    chores.add(Chore.await("", this::isInPlace));
    chores.add(Chore.ask("", () -> orders.throwByHand(move.toe(), move.forSpur().opposite())));
    chores.add(Chore.ask("", () -> orders.secure(move.toe())));
    chores.add(Chore.await("", () -> legs.remove() != null));
  }

  private boolean isInPlace() {
    return state().filter(state -> hasArrived(state, legs.element())).isPresent();
  }

  // What it needs.

  private BitSet holds() {
    BitSet needed = new BitSet();
    if (duty == Duty.AWAY) {
      return needed;
    }
    needed.or(stand.covers());
    needed.or(working);
    List<String> under = state().map(TrainState::sections).orElse(List.of());
    needed.or(numbering.set(under));
    for (Leg leg : legs) {
      needed.or(stillToCome(leg, under));
    }
    return needed;
  }

  private BitSet stillToCome(Leg leg, List<String> under) {
    if (!leg.isEntered() || leg.move() instanceof Move.ByHand) {
      return leg.move().needs();
    }
    List<String> path = leg.move().path();
    int head = under.isEmpty() ? 0 : path.indexOf(under.get(under.size() - 1));
    return numbering.set(path.subList(Math.max(0, head), path.size()));
  }
}
