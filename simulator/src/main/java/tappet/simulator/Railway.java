package tappet.simulator;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;
import tappet.sentence.Command;
import tappet.sentence.Happening;

/**
 * A whole railway without a railroad: its boards speak on the bus as real ones do, its switches
 * take their time, its trains run on the track plan.
 *
 * <p>One thread at a time. Times are nanoseconds of any clock that never goes back; a time before
 * one already given counts as that one. What the boards send goes out within the call that caused
 * it, and {@code toBus} may call {@link #receive} at once.
 */
public final class Railway {

  /** How long a switch moves from end to end, where nothing else is said. */
  public static final Duration THROW_TIME = Duration.ofMillis(1500);

  private final Layout layout;
  private final Bus bus;
  private final Trackside trackside;
  private final Traffic traffic;
  private final MishapBook mishaps;
  private final Trainmaster trainmaster;
  private final Fate fate;
  private long nowNs;
  private boolean advancing;

  /**
   * A railway whose switches lie normal and move for {@link #THROW_TIME}.
   *
   * @param toBus takes each frame the boards send
   * @throws IllegalArgumentException if a train does not fit; see {@link #place} for a gentler way
   */
  public Railway(TrackPlan plan, List<TrainSpec> trains, Consumer<CanFrame> toBus) {
    this(plan, trains, toBus, THROW_TIME);
  }

  /**
   * A railway whose switches lie normal and whose signals show stop.
   *
   * @param toBus takes each frame the boards send
   * @param throwTime how long a switch moves from end to end, above 0
   * @throws IllegalArgumentException if a train does not fit; see {@link #place} for a gentler way
   */
  public Railway(
      TrackPlan plan, List<TrainSpec> trains, Consumer<CanFrame> toBus, Duration throwTime) {
    layout = plan.layout();
    bus = new Bus(toBus, () -> nowNs);
    trackside = new Trackside(layout, throwTime.toNanos(), bus::report);
    mishaps = new MishapBook(layout);
    traffic = new Traffic(trackside, mishaps);
    trainmaster = new Trainmaster(layout, new Rails(plan), trackside, traffic, mishaps);
    fate = new Fate(layout, bus, trackside, trainmaster);
    new Wiring(bus, trackside, traffic).wire(layout);
    trains.forEach(this::placeOrThrow);
  }

  private void placeOrThrow(TrainSpec train) {
    trainmaster
        .place(train)
        .ifPresent(
            why -> {
              throw new IllegalArgumentException(why);
            });
  }

  /** The boards begin to reserve their aliases. */
  public void start(long nowNs) {
    this.nowNs = nowNs;
    bus.start(nowNs);
    settle();
  }

  /** A frame from the rest of the bus. */
  public void receive(CanFrame frame, long nowNs) {
    advance(nowNs);
    bus.sendFromOutside(frame);
    bus.carry(this.nowNs);
    traffic.lookAgain();
  }

  /**
   * Brings boards, switches and trains up to now, everything in the order of its time. How often
   * this is called makes no difference to what happens.
   */
  public void advance(long nowNs) {
    if (advancing) {
      return;
    }
    advancing = true;
    try {
      doWhatIsDueBy(nowNs);
    } finally {
      advancing = false;
    }
    this.nowNs = Math.max(this.nowNs, nowNs);
  }

  private void doWhatIsDueBy(long nowNs) {
    for (OptionalLong due = deadlineNs(); isBy(due, nowNs); due = deadlineNs()) {
      doWhatIsDueAt(Math.max(this.nowNs, due.getAsLong()));
    }
    traffic.makeUpBy(nowNs);
  }

  private static boolean isBy(OptionalLong due, long nowNs) {
    return due.isPresent() && due.getAsLong() <= nowNs;
  }

  private void doWhatIsDueAt(long dueNs) {
    traffic.makeUpBy(dueNs - 1);
    nowNs = dueNs;
    bus.advance(dueNs);
    if (trackside.advance(dueNs)) {
      traffic.wake(dueNs);
    }
    traffic.lookAgain();
    traffic.advance(dueNs);
    if (bus.carry(dueNs)) {
      traffic.lookAgain();
    }
  }

  /** When something is next due; empty while everything stands still. */
  public OptionalLong deadlineNs() {
    OptionalLong first = Deadlines.earlier(bus.deadlineNs(), trackside.deadlineNs());
    return Deadlines.earlier(first, traffic.deadlineNs());
  }

  /**
   * Tells a train to run, to halt, to pick up what stands ahead or to set cars out. A heading that
   * is not the train's own turns a standing train round first: the engineer changes ends.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> tell(Command command) {
    Optional<String> whyNot = trainmaster.tell(command);
    settle();
    return whyNot;
  }

  /**
   * Lets something befall the railway.
   *
   * @return empty if done, else why not, in an owner's words
   * @throws IllegalArgumentException if there is nothing of that name
   */
  public Optional<String> happen(Happening happening) {
    Optional<String> whyNot = fate.happen(happening, nowNs);
    settle();
    return whyNot;
  }

  /**
   * Puts a train on the track, where it stands.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> place(TrainSpec train) {
    Optional<String> whyNot = trainmaster.place(train);
    settle();
    return whyNot;
  }

  /**
   * Takes a train off the track, as a hand would.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> lift(String train) {
    Optional<String> whyNot = trainmaster.lift(train);
    settle();
    return whyNot;
  }

  /** Makes a train's engineer heed the signals, as all do at first, or go by all of them. */
  public void obeySignals(String train, boolean obey) {
    trainmaster.obeySignals(train, obey);
    settle();
  }

  /**
   * How long a train stands at an automatic signal at Stop before it goes on at restricted speed: 5
   * s at first.
   *
   * @param pause not below 0
   */
  public void pauseAtStopAndProceed(Duration pause) {
    if (pause.isNegative()) {
      throw new IllegalArgumentException("pause " + pause + ", expected 0 or more");
    }
    trainmaster.pause(pause);
    settle();
  }

  /** What every train does now, in the order in which they were placed. */
  public List<TrainState> trains() {
    return trainmaster.states();
  }

  /** What one train does now; empty if it is not on the track. */
  public Optional<TrainState> train(String name) {
    return trains().stream().filter(train -> train.name().equals(name)).findFirst();
  }

  /** The position a switch lies in, as detected; empty in motion or stuck between. */
  public Optional<Position> lies(String switchId) {
    return trackside.switchLies(switchId);
  }

  /** The aspect a signal shows. */
  public String aspect(String signal) {
    return trackside.aspect(signal);
  }

  /** The sections whose detectors tell that they are occupied, in the order of the layout. */
  public List<String> occupied() {
    return layout.sections().keySet().stream().filter(trackside::occupied).toList();
  }

  /** Everything that went wrong, in the order in which it happened. */
  public List<Mishap> mishaps() {
    return mishaps.all();
  }

  /** The boards of the layout, in the order in which its file names them. */
  public List<NodeId> boards() {
    return bus.boards().stream().map(Board::id).toList();
  }

  /** Whether a board takes part in the traffic on the bus. */
  public boolean isReady(NodeId board) {
    return bus.board(board).isReady();
  }

  /** Lets the motor of a switch stop where it is, and stay. */
  public void failSwitch(String switchId) {
    trackside.machine(switchId).fail(nowNs);
    settle();
  }

  /** Mends the motor of a switch, which goes on to where it was last called. */
  public void mendSwitch(String switchId) {
    trackside.machine(switchId).mend(nowNs);
    settle();
  }

  /**
   * Lets a lamp of a signal burn out.
   *
   * @param lamp as the layout's lamp proving calls it, such as {@code top-green}
   */
  public void failLamp(String signal, String lamp) {
    trackside.burnOut(signal, lamp, true, nowNs);
    settle();
  }

  /** Puts a new lamp in. */
  public void mendLamp(String signal, String lamp) {
    trackside.burnOut(signal, lamp, false, nowNs);
    settle();
  }

  /** Throws a switch by hand, in no time. */
  public void throwByHand(String switchId, Position position) {
    trackside.throwByHand(switchId, position);
    settle();
  }

  /** The breaker of a power district trips: its trains stand, its detectors tell nothing true. */
  public void tripBreaker(String district) {
    trackside.trip(district, true);
    settle();
  }

  /** There is power again. */
  public void restoreBreaker(String district) {
    trackside.trip(district, false);
    settle();
  }

  /** Opens an opening by hand, locked or not. */
  public void open(String opening) {
    trackside.gear().open(opening, true);
    settle();
  }

  /** Closes an opening by hand. */
  public void close(String opening) {
    trackside.gear().open(opening, false);
    settle();
  }

  /** Where the bolt of an opening lies, normal for locked; empty in motion or stuck between. */
  public Optional<Position> boltLies(String opening) {
    return trackside.gear().bolt(opening).lies();
  }

  /** Lets the bolt of an opening stop where it is, and stay. */
  public void failBolt(String opening) {
    trackside.gear().bolt(opening).fail(nowNs);
    settle();
  }

  /** Mends the bolt of an opening, which goes on to where it was last called. */
  public void mendBolt(String opening) {
    trackside.gear().bolt(opening).mend(nowNs);
    settle();
  }

  /** Presses a button, and keeps it pressed. */
  public void press(String button) {
    trackside.gear().press(button, true);
    settle();
  }

  /** Lets a button go. */
  public void release(String button) {
    trackside.gear().press(button, false);
    settle();
  }

  /** Whether a power district is tripped. */
  public boolean isTripped(String district) {
    return trackside.gear().isTripped(district);
  }

  /** Whether an opening is open. */
  public boolean isOpen(String opening) {
    return trackside.gear().isOpen(opening);
  }

  /** Whether a lamp is lit. */
  public boolean isLit(String lamp) {
    return trackside.gear().isLit(lamp);
  }

  /** Whether a grade crossing warns. */
  public boolean isWarning(String crossing) {
    return trackside.gear().isWarning(crossing);
  }

  /** Unplugs a board from the bus: it answers, sends and hears nothing, its outputs stay. */
  public void silence(NodeId board) {
    bus.board(board).silence();
  }

  /**
   * A crew throws a switch by hand, if its lock lets it, with all that is joined to it by a rod.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> throwByCrew(String switchId, Position position) {
    Optional<String> whyNot = trackside.throwByCrew(switchId, position);
    settle();
    return whyNot;
  }

  /** Draws the bolt of a switch's electric lock without leave. */
  public void breakLock(String switchId) {
    trackside.breakLock(switchId);
    settle();
  }

  /** Whether a switch's electric lock holds it. */
  public boolean isSecured(String switchId) {
    return trackside.lock(switchId).state() == LockState.SECURED;
  }

  /** Works the control of a switch beside the track. */
  public void askAtControl(String switchId, Position position) {
    trackside.ask(switchId, position);
    settle();
  }

  /** Plugs a board in again: it reserves an alias and tells how its inputs and outputs stand. */
  public void restore(NodeId board) {
    bus.board(board).restore(nowNs);
    settle();
  }

  /** Makes a detector tell that its section is occupied, or clear, whatever is in it. */
  public void forceSection(String section, boolean occupied) {
    trackside.force(section, occupied);
    settle();
  }

  /** Makes a detector tell the truth again. */
  public void unforce(String section) {
    trackside.unforce(section);
    settle();
  }

  /** Something was done to the railway from outside: trains look again, frames go out. */
  private void settle() {
    bus.carry(nowNs);
    traffic.wake(nowNs);
  }
}
