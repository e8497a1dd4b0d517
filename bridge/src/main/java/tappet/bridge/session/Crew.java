package tappet.bridge.session;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.rules.ControlTable;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;
import tappet.simulator.session.ListedTrain;

/**
 * A train with its people: begins and ends its runs, works where it calls, throws switches by hand,
 * and knows what track it needs for all that.
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

  /** What every crew of a session shares. */
  record Company(
      Layout layout,
      ControlTable table,
      RouteBook.Numbering numbering,
      Orders orders,
      Journal journal,
      Chance chance,
      FastTime clock) {}

  /** A train that is to be lifted waits so long at most for its route to be gone. */
  private static final long LIFT_AFTER_NS = TimeUnit.SECONDS.toNanos(60);

  private static final long NOT_BEGUN = -1;

  /** A minute or so. */
  private static final int ASK_ANEW_AFTER = 6;

  private final ListedTrain train;
  private final int number;
  private final Itinerary itinerary;
  private final Company company;
  private final Orders orders;
  private final Pace pace;
  private final Leftovers leftovers;
  private final Driver driver;
  private final Deque<Chore> chores = new ArrayDeque<>();
  private final List<Run> runs = new ArrayList<>();
  private int runsEnded;
  private Duty duty = Duty.AWAY;
  private int goal;
  private long worksUntilMinute = NOT_BEGUN;
  private int triedInVain;
  private BitSet worksOn = new BitSet();
  private BitSet held = new BitSet();
  private BitSet takenByOthers = new BitSet();
  private Sight sight;
  private Optional<String> waitsFor = Optional.empty();

  /** Its people have taken it off the track, and will put it back. */
  private boolean inHand;

  /**
   * @param number its own in the list
   */
  Crew(ListedTrain train, int number, Itinerary itinerary, Company company) {
    this.train = train;
    this.number = number;
    this.itinerary = itinerary;
    this.company = company;
    this.orders = company.orders();
    this.pace = new Pace(company.chance());
    this.leftovers = new Leftovers(train.name(), orders);
    this.driver = new Driver(train.name(), itinerary.beginning(), orders, pace, leftovers);
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
    return driver.stand();
  }

  /** The first of its goals that it has not met, the number of them where it is through. */
  int goal() {
    return goal;
  }

  /** Its runs, the one that is planned next among them. */
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

  /** Why it does not get on, where it would like to. */
  Optional<String> waitsFor() {
    return waitsFor;
  }

  /** Whether it is at work, and will be through when its time has run. */
  boolean isAtWork() {
    return worksUntilMinute != NOT_BEGUN;
  }

  /** What is to be reckoned with of it, if it stands there. */
  Foresight.Claim claim(Stand there, int nextGoal, boolean beginsAgain) {
    boolean lifted = train.then().isLifted();
    return new Foresight.Claim(number, itinerary, there, nextGoal, beginsAgain, lifted);
  }

  /** Whether it wants to be told where to go next. */
  boolean wantsOn() {
    return duty == Duty.ON_THE_WAY
        && chores.isEmpty()
        && pace.isReady(sight.nowNs())
        && (driver.isThere() || driver.isComing())
        && !itinerary.isMet(stand(), goal);
  }

  /** Whether it stands and can do nothing until it is told where to go next. */
  boolean isAtAStand() {
    return driver.isThere();
  }

  void askLater() {
    pace.askLater(sight.nowNs());
  }

  /**
   * Sees how things stand, and does what is to be done.
   *
   * @param passedNs the time since it last did
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
    } else if (duty != Duty.AWAY) {
      state().ifPresentOrElse(this::act, this::leave);
    }
    leftovers.follow(sight, driver.rows(), under());
    held = holds();
  }

  private Optional<TrainState> state() {
    return Optional.ofNullable(sight.trains().get(name()));
  }

  private List<String> under() {
    return state().map(TrainState::sections).orElse(List.of());
  }

  private void act(TrainState state) {
    if (!driver.isThere()) {
      waitsFor = driver.drive(state, sight);
    }
    if (chores.isEmpty() && driver.isThere()) {
      takeUp();
    }
    doChores();
  }

  /** What there is to do where it stands. */
  private void takeUp() {
    if (duty == Duty.ON_THE_WAY && itinerary.isMet(stand(), goal)) {
      takeUpWork(itinerary.goals().get(goal));
    } else if (leftovers.cancelledInVain().isPresent() && isOnPlainTrack()) {
      takeInHandUntilGone(leftovers.cancelledInVain().get().id());
    }
  }

  private void doChores() {
    while (!chores.isEmpty() && pace.isReady(sight.nowNs())) {
      Chore chore = chores.element();
      Optional<String> whyNot = chore.attempt().get();
      if (whyNot.isPresent() && chore.asks()) {
        pace.askLater(sight.nowNs());
        waitFor(whyNot.get());
      }
      if (whyNot.isPresent()) {
        return;
      }
      chores.remove();
      if (chore.asks()) {
        pace.takeAMoment(sight.nowNs());
      }
    }
  }

  // Its runs.

  void plan(long minute) {
    runs.add(new Run(name(), minute));
  }

  private Run lastRun() {
    return runs.get(runs.size() - 1);
  }

  /** Begins the run that is planned; a train that is off the track is put on it first. */
  Optional<String> begin() {
    if (duty == Duty.AWAY) {
      Optional<String> whyNot = orders.place(specAt(itinerary.beginning()));
      if (whyNot.isPresent()) {
        return whyNot;
      }
      driver.beginAt(itinerary.beginning());
    }
    duty = Duty.ON_THE_WAY;
    goal = 0;
    held.or(stand().covers());
    lastRun().begin(company.clock().minutes());
    company.journal().note(name() + " begins its run");
    pace.takeAMoment(sight.nowNs());
    return Optional.empty();
  }

  /** The train as it stands there, in a plain section. */
  private TrainSpec specAt(Stand there) {
    Layout layout = company.layout();
    String entry = there.trail().get(0).entry();
    double east = layout.joints().get(there.head()).x() - layout.joints().get(entry).x();
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
    lastRun().end(company.clock().minutes());
    runsEnded++;
    duty = Duty.PARKED;
    company.journal().note(name() + " is through with its run");
    if (train.then().isLifted()) {
      long untilNs = sight.nowNs() + LIFT_AFTER_NS;
      chores.add(Chore.await(() -> leftovers.isEmpty() || sight.nowNs() >= untilNs));
      chores.add(Chore.ask(() -> orders.lift(name())));
    }
  }

  /** It is off the track, whoever has lifted it. */
  private void leave() {
    company.journal().note(name() + " is off the track");
    runsEnded += duty == Duty.ON_THE_WAY ? 1 : 0;
    duty = Duty.AWAY;
    goal = itinerary.goals().size();
    driver.beginAt(itinerary.beginning());
    chores.clear();
    worksOn = new BitSet();
    worksUntilMinute = NOT_BEGUN;
  }

  // Its work.

  private void takeUpWork(Itinerary.Goal place) {
    chores.add(Chore.await(() -> claim(place.needs())));
    if (!place.permit().isEmpty()) {
      chores.add(Chore.ask(() -> orders.grantPermit(name(), place.permit())));
    }
    place.release().ifPresent(toe -> throwReleased(toe, Position.REVERSE));
    chores.add(Chore.await(() -> isDone(place)));
    place.release().ifPresent(toe -> giveBack(toe, Position.NORMAL));
    if (!place.permit().isEmpty()) {
      chores.add(Chore.ask(() -> orders.returnPermit(name())));
    }
    chores.add(Chore.await(this::finishWork));
  }

  private boolean claim(BitSet sections) {
    Optional<String> taken = company.numbering().common(sections, takenByOthers);
    taken.ifPresent(section -> waitFor("others are on %s, where it works".formatted(section)));
    if (taken.isEmpty()) {
      worksOn = sections;
    }
    return taken.isEmpty();
  }

  private void throwReleased(String toe, Position position) {
    chores.add(Chore.ask(() -> orders.release(toe, name())));
    chores.add(Chore.ask(() -> throwOnceReleased(toe, position)));
  }

  /** What the lock's board did not hear is asked for once more, from the beginning. */
  private Optional<String> throwOnceReleased(String toe, Position position) {
    Optional<String> whyNot = orders.throwByHand(toe, position);
    triedInVain = whyNot.isPresent() ? triedInVain + 1 : 0;
    if (triedInVain == ASK_ANEW_AFTER) {
      triedInVain = 0;
      Orders.tryTo(() -> orders.secure(toe));
      Orders.tryTo(() -> orders.release(toe, name()));
    }
    return whyNot;
  }

  private void giveBack(String toe, Position position) {
    chores.add(Chore.ask(() -> orders.throwByHand(toe, position)));
    chores.add(Chore.ask(() -> orders.secure(toe)));
    chores.add(Chore.ask(() -> secureUntilHeld(toe)));
  }

  private Optional<String> secureUntilHeld(String toe) {
    boolean open = sight.open().contains(toe);
    if (open) {
      Orders.tryTo(() -> orders.secure(toe));
    }
    return Optional.of("the lock of %s does not hold".formatted(toe)).filter(why -> open);
  }

  /** Its time begins to run when it is first asked after. */
  private boolean isDone(Itinerary.Goal place) {
    long minute = company.clock().minutes();
    if (worksUntilMinute == NOT_BEGUN) {
      worksUntilMinute = minute + place.work().toMinutes();
    }
    return minute >= worksUntilMinute;
  }

  private boolean finishWork() {
    worksUntilMinute = NOT_BEGUN;
    worksOn = new BitSet();
    goal++;
    if (goal == itinerary.goals().size()) {
      endRun();
    } else {
      company.journal().note("%s is through at %s".formatted(name(), stand().section()));
      pace.takeAMoment(sight.nowNs());
    }
    return true;
  }

  // Its moves.

  /** Is given a move to make, whose route is lined where it has one. */
  void give(Move move) {
    driver.give(move, sight.nowNs());
    held.or(move.needs());
    held.or(stand().covers());
    pace.takeAMoment(sight.nowNs());
    if (move instanceof Move.ByHand byHand) {
      goByHand(byHand);
    }
  }

  private void goByHand(Move.ByHand move) {
    throwReleased(move.toe(), move.forSpur());
    chores.add(Chore.ask(() -> state().flatMap(state -> orders.run(name(), heading(move, state)))));
    chores.add(Chore.await(() -> state().filter(driver::hasArrived).isPresent()));
    giveBack(move.toe(), move.forSpur().opposite());
    chores.add(Chore.await(this::finishByHand));
  }

  private static Optional<Heading> heading(Move.ByHand move, TrainState state) {
    return move.out() ? Optional.of(state.heading().opposite()) : Optional.empty();
  }

  private boolean finishByHand() {
    driver.finish(sight.nowNs());
    return true;
  }

  // A route that cannot be given up while the train stands in it.

  private boolean isOnPlainTrack() {
    return stand().trail().size() == 1
        && !company.layout().sections().get(stand().section()).between().isEmpty();
  }

  private void takeInHandUntilGone(String route) {
    chores.add(Chore.ask(this::takeInHand));
    chores.add(Chore.await(() -> !sight.locked().contains(route)));
    chores.add(Chore.ask(this::putBack));
  }

  private Optional<String> takeInHand() {
    Optional<String> whyNot = orders.lift(name());
    inHand = whyNot.isEmpty();
    return whyNot;
  }

  private Optional<String> putBack() {
    Optional<String> whyNot = orders.place(specAt(stand()));
    inHand = whyNot.isPresent();
    return whyNot;
  }

  // What it needs.

  private BitSet holds() {
    BitSet needed = new BitSet();
    if (duty != Duty.AWAY) {
      needed.or(stand().covers());
      needed.or(worksOn);
      needed.or(company.numbering().set(under()));
      needed.or(driver.needs(under(), company.numbering()));
    }
    return needed;
  }
}
