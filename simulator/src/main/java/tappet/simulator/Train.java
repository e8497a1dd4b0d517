package tappet.simulator;

import java.time.Duration;
import java.util.Optional;
import tappet.simulator.TrainState.Activity;

/** A train with its engineer. */
final class Train {

  private static final double ACCELERATION = 0.15;
  private static final double EMERGENCY_BRAKE = 0.6;

  /** More above the allowed speed than this, in m/s, cannot be braking a little late. */
  private static final double SURPRISE = 0.02;

  private final TrainSpec spec;
  private final Consist consist;
  private final Road road;
  private final Engineer engineer;
  private final MishapBook mishaps;
  private Outlook outlook = Outlook.open(0);
  private double limit;
  private double speed;
  private boolean toldToRun;
  private boolean wrecked;

  /** A train that stands where {@code consist} says. */
  Train(
      TrainSpec spec,
      Consist consist,
      Road road,
      Lookout lookout,
      double stepSeconds,
      MishapBook mishaps) {
    this.spec = spec;
    this.consist = consist;
    this.road = road;
    this.engineer = new Engineer(road, lookout, spec.speedMetresPerSecond(), stepSeconds);
    this.mishaps = mishaps;
  }

  /**
   * Starts, or goes on. A train that has stood within a block must expect the next signal at Stop
   * (FM 55-21 rule 305).
   */
  void run() {
    if (!toldToRun) {
      toldToRun = true;
      limit = speedBy(engineer.isRestricted() ? AspectSpeed.RESTRICTING : AspectSpeed.APPROACH);
    }
  }

  void halt() {
    toldToRun = false;
  }

  /** The engineer walks to the other end of a standing train. */
  void changeEnds() {
    consist.changeEnds();
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
    roll(speed * seconds);
    waitsFor().ifPresent(signal -> engineer.standAt(signal, seconds));
    if (limit == 0 && speed == 0) {
      halt();
    }
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
    return spec.name();
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
    return aspect.part() * spec.speedMetresPerSecond();
  }
}
