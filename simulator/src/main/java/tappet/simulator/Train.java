package tappet.simulator;

import java.time.Duration;
import java.util.Optional;
import tappet.sentence.Command.End;
import tappet.simulator.TrainState.Activity;

/** A train with its engineer. */
final class Train {

  private static final double ACCELERATION = 0.15;
  private static final double EMERGENCY_BRAKE = 0.6;

  /** More above the allowed speed than this, in m/s, cannot be braking a little late. */
  private static final double SURPRISE = 0.02;

  private final String name;
  private final double lineSpeed;
  private final Consist consist;
  private Makeup makeup;
  private final Road road;
  private final Engineer engineer;
  private final MishapBook mishaps;
  private Outlook outlook = Outlook.open(0);
  private double limit;
  private double speed;
  private boolean toldToRun;
  private boolean wrecked;
  private boolean brakeless;

  /**
   * A train that stands where {@code consist} says.
   *
   * @param lineSpeed the speed it runs at where nothing restricts it, in m/s
   */
  Train(
      String name,
      double lineSpeed,
      Makeup makeup,
      Consist consist,
      Road road,
      Lookout lookout,
      double stepSeconds,
      MishapBook mishaps) {
    this.name = name;
    this.lineSpeed = lineSpeed;
    this.makeup = makeup;
    this.consist = consist;
    this.road = road;
    this.engineer = new Engineer(road, lookout, lineSpeed, stepSeconds);
    this.mishaps = mishaps;
  }

  /**
   * Starts, or goes on. A train that has stood within a block must expect the next signal at Stop
   * (FM 55-21 rule 305).
   */
  void run() {
    engineer.coupleTo(Optional.empty());
    go();
  }

  /** Starts, or goes on, to couple to a train that stands ahead. */
  void pickUp(String other) {
    engineer.coupleTo(Optional.of(other));
    go();
  }

  private void go() {
    if (!toldToRun) {
      toldToRun = true;
      limit = speedBy(engineer.isRestricted() ? AspectSpeed.RESTRICTING : AspectSpeed.APPROACH);
    }
  }

  void halt() {
    toldToRun = false;
    engineer.coupleTo(Optional.empty());
  }

  /** Stands, coupled to what was ahead. */
  void coupleTo(Makeup others, Consist ahead) {
    makeup = makeup.behind(others);
    consist.coupleTo(ahead);
    speed = 0;
    outlook = Outlook.open(0);
    halt();
  }

  /** Leaves so many cars at one end; what they are made up of, and where they stand, was asked. */
  void leave(End end, int cars) {
    consist.shorten(end, makeup.part(end, cars).lengthMetres());
    makeup = makeup.without(end, cars);
  }

  /** The engineer walks to the other end of a standing train. */
  void changeEnds() {
    consist.changeEnds();
    makeup = makeup.turned();
    engineer.changeEnds();
    toldToRun = false;
  }

  /** Comes to grief: stands, and stays where it is. */
  void wreck() {
    speed = 0;
    outlook = Outlook.open(0);
    toldToRun = false;
    wrecked = true;
  }

  /** Stands where it is, and goes on when there is power again. */
  void losePower() {
    speed = 0;
  }

  /** Does not slow down any more, whatever its engineer does. */
  void loseBrakes() {
    brakeless = true;
  }

  void obeySignals(boolean obey) {
    engineer.obeySignals(obey);
  }

  /** How long its engineer stands at an automatic signal at Stop. */
  void pause(Duration pause) {
    engineer.pause(pause);
  }

  /** Runs on for a while as the engineer sees fit. */
  void advance(double seconds) {
    if (wrecked) {
      return;
    }
    outlook = toldToRun ? engineer.look(consist, limit) : Outlook.open(0);
    speed = nextSpeed(outlook.speedMetresPerSecond(), seconds);
    roll(metresToRoll(seconds));
    waitsFor().ifPresent(signal -> engineer.standAt(signal, seconds));
    if (limit == 0 && speed == 0) {
      halt();
    }
  }

  /** At the speed of a coupling it goes no farther than to the coupler. */
  private double metresToRoll(double seconds) {
    double metres = speed * seconds;
    return mayCouple() ? Math.min(metres, outlook.metresToCoupling()) : metres;
  }

  /** Whether it is slow enough. */
  boolean mayCouple() {
    return speed <= Engineer.COUPLING_SPEED;
  }

  /** What it is told to couple to, if it is. */
  Optional<String> couplesTo() {
    return engineer.couplesTo();
  }

  /** Whether nothing will change until something else does. */
  boolean isStill() {
    return stands() && waitsFor().filter(road::isStopAndProceed).isEmpty();
  }

  /** Whether nothing will change until something else does but other trains. */
  boolean isStillWhateverTrainsDo() {
    return !toldToRun ? stands() : isStill() && !engineer.goesBySight();
  }

  private boolean stands() {
    return speed == 0 && outlook.speedMetresPerSecond() == 0;
  }

  boolean isWrecked() {
    return wrecked;
  }

  boolean isMoving() {
    return speed > 0;
  }

  /** How fast it may get as things are, at most. */
  double speedAtMost() {
    return Math.max(speed, limit);
  }

  /** The time in which it cannot come to a stand, in seconds. */
  double secondsOnTheMove() {
    return speed / EMERGENCY_BRAKE;
  }

  String name() {
    return name;
  }

  double lineSpeed() {
    return lineSpeed;
  }

  Makeup makeup() {
    return makeup;
  }

  /** Where the power must be by which it runs. */
  String sectionUnderEngine() {
    return consist.sectionBehindHead(makeup.metresToEngine());
  }

  Consist consist() {
    return consist;
  }

  double speedMetresPerSecond() {
    return speed;
  }

  /** The signal that holds the train, where one does. */
  Optional<String> waitsFor() {
    return activity() == Activity.WAITING_AT_SIGNAL ? outlook.signalAtStop() : Optional.empty();
  }

  Activity activity() {
    if (wrecked) {
      return Activity.WRECKED;
    }
    if (speed > 0 || (toldToRun && !isHeld())) {
      return Activity.RUNNING;
    }
    if (!toldToRun) {
      return Activity.STANDING;
    }
    if (outlook.trainAhead()) {
      return Activity.WAITING_BEHIND_TRAIN;
    }
    return outlook.endOfTrack() ? Activity.AT_END_OF_TRACK : Activity.WAITING_AT_SIGNAL;
  }

  private boolean isHeld() {
    return stands() && outlook.stops();
  }

  /** A signal that drops in the train's face is no matter for the service brake (rule 304). */
  private double nextSpeed(double allowed, double seconds) {
    if (speed <= allowed) {
      return Math.min(allowed, speed + ACCELERATION * seconds);
    }
    if (brakeless) {
      return speed;
    }
    boolean surprised = toldToRun && speed > allowed + SURPRISE;
    double brake = surprised ? EMERGENCY_BRAKE : Engineer.SERVICE_BRAKE;
    return Math.max(allowed, speed - brake * seconds);
  }

  private void roll(double metres) {
    consist.roll(metres);
    while (consist.isOverEnd()) {
      goOn(road.beyond(consist.head()));
    }
    consist.leaveBehind();
  }

  private void goOn(Optional<Run.Exit> exit) {
    if (exit.isEmpty()) {
      consist.stopAtEnd();
      road.derailBeyond(consist.head())
          .ifPresentOrElse(
              derail -> mishaps.derailedAt(this, derail), () -> mishaps.ranOffTheEnd(this));
      return;
    }
    exit.get().signals().forEach(this::pass);
    consist.enter(exit.get().run());
  }

  private void pass(String signal) {
    AspectSpeed allowed = engineer.speedBy(signal);
    engineer.passed(allowed);
    if (allowed != AspectSpeed.STOP) {
      limit = speedBy(allowed);
      return;
    }
    mishaps.passedAtStop(this, signal);
    if (engineer.obeysSignals()) {
      limit = 0; // The train stops at once and reports (rule 304); it is for others to let it go.
    }
  }

  private double speedBy(AspectSpeed aspect) {
    return aspect.part() * lineSpeed;
  }
}
