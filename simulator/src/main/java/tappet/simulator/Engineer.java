package tappet.simulator;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * Looks along the road as far as the train takes to stop, and says how fast it may run.
 *
 * <p>The engineer brakes so as to stop short of a signal at Stop and of the end of track, and to go
 * by any other signal at the speed of its aspect. Having stood at an automatic signal at Stop for a
 * moment, the engineer goes on at restricted speed as far as the next signal: prepared to stop
 * short of a train (49 CFR 236.812; Stop and Proceed: common practice, rule books). Told to couple,
 * the engineer runs by sight as well, and comes to what is to be coupled to at {@value
 * #COUPLING_SPEED} m/s.
 */
final class Engineer {

  /** How fast a train slows with the service brake, in m/s². */
  static final double SERVICE_BRAKE = 0.2;

  /** How far before a signal or the end of track a train comes to a stand. */
  static final double STOP_SHORT_METRES = 0.05;

  /**
   * How fast a train may come to what it couples to, in m/s: 4 mph in HO (rule books have 4 mph;
   * from memory, no source).
   */
  static final double COUPLING_SPEED = 0.02;

  /** From here on a train that couples has slowed down as far as it has to. */
  private static final double CLOSE_METRES = 0.01;

  /** How long a train stands at an automatic signal at Stop, where nothing else is said. */
  static final Duration PAUSE = Duration.ofSeconds(5);

  /** Nearer than this is there: rounding must not make a train creep for ever. */
  private static final double THERE_METRES = 1e-6;

  private final Road road;
  private final Lookout lookout;
  private final double lineSpeed;
  private final double sightMetres;
  private final double stepSeconds;
  private boolean obeysSignals = true;
  private boolean restricted;
  private double pauseSeconds = PAUSE.toMillis() / 1e3;
  private double stoodSeconds;
  private Optional<String> standsAt = Optional.empty();
  private Optional<String> couplesTo = Optional.empty();

  /**
   * @param lineSpeed the train's own speed, in m/s
   * @param stepSeconds how long a speed is kept before the engineer looks again
   */
  Engineer(Road road, Lookout lookout, double lineSpeed, double stepSeconds) {
    this.road = road;
    this.lookout = lookout;
    this.lineSpeed = lineSpeed;
    this.sightMetres = lineSpeed * lineSpeed / (2 * SERVICE_BRAKE) + 2 * STOP_SHORT_METRES;
    this.stepSeconds = stepSeconds;
  }

  void obeySignals(boolean obey) {
    obeysSignals = obey;
  }

  boolean obeysSignals() {
    return obeysSignals;
  }

  /** Couples to the train of that name when it comes to it, or to none. */
  void coupleTo(Optional<String> train) {
    couplesTo = train;
  }

  Optional<String> couplesTo() {
    return couplesTo;
  }

  /** How long to stand at an automatic signal at Stop. */
  void pause(Duration pause) {
    pauseSeconds = pause.toNanos() / 1e9;
  }

  /** Has stood for a while longer before a signal at Stop. */
  void standAt(String signal, double seconds) {
    if (!standsAt.equals(Optional.of(signal))) {
      standsAt = Optional.of(signal).filter(road::isStopAndProceed);
      stoodSeconds = 0;
    }
    stoodSeconds += seconds;
  }

  /** How fast to go by a signal; {@code STOP} where it is not to be passed. */
  AspectSpeed speedBy(String signal) {
    return mayProceedBy(signal) ? AspectSpeed.RESTRICTING : road.speedBy(signal);
  }

  private boolean mayProceedBy(String signal) {
    return standsAt.equals(Optional.of(signal))
        && stoodSeconds >= pauseSeconds
        && road.speedBy(signal) == AspectSpeed.STOP;
  }

  /** The train has gone by a signal, at a speed that holds as far as the next one. */
  void passed(AspectSpeed allowed) {
    restricted = allowed == AspectSpeed.RESTRICTING;
    standsAt = Optional.empty();
  }

  /** Goes to the other end of the train, and is at no signal any more. */
  void changeEnds() {
    standsAt = Optional.empty();
  }

  /** Whether the train runs at restricted speed, by the last signal. */
  boolean isRestricted() {
    return restricted;
  }

  /**
   * What the road ahead allows.
   *
   * @param limit the speed the train may have where it is
   */
  Outlook look(Consist consist, double limit) {
    if (!goesBySight()) {
      return look(consist.head(), consist.metresAhead(), sightMetres, Outlook.open(limit));
    }
    Outlook slow = Outlook.open(Math.min(limit, AspectSpeed.RESTRICTING.part() * lineSpeed));
    Optional<Lookout.Sighting> train = lookout.ahead(consist, sightMetres);
    double sight = train.map(Lookout.Sighting::metres).orElse(sightMetres);
    Outlook outlook = look(consist.head(), consist.metresAhead(), sight, slow);
    return train.isEmpty() || outlook.stops() ? outlook : comeTo(train.get(), outlook);
  }

  private Outlook comeTo(Lookout.Sighting train, Outlook outlook) {
    double metres = train.metres();
    return train.canBeCoupledTo() && couplesTo.equals(Optional.of(train.train()))
        ? outlook.slowTo(slowingTo(COUPLING_SPEED, metres - CLOSE_METRES)).coupleIn(metres)
        : outlook.slowTo(stoppingShortOf(metres)).stopBehindTrain();
  }

  /** At restricted speed a train can be stopped short of what is seen; else signals must do. */
  boolean goesBySight() {
    return restricted || couplesTo.isPresent() || standsAt.filter(this::mayProceedBy).isPresent();
  }

  /**
   * @param metres from the train's head to the end of {@code run}
   */
  private Outlook look(Run run, double metres, double sight, Outlook soFar) {
    if (metres >= sight) {
      return soFar;
    }
    Optional<Run.Exit> exit = road.beyond(run);
    if (exit.isEmpty()) {
      return soFar.slowTo(stoppingShortOf(metres)).stopAtEndOfTrack();
    }
    Outlook outlook = heed(exit.get().signals(), metres, soFar);
    Run next = exit.get().run();
    return outlook.stops() ? outlook : look(next, metres + next.lengthMetres(), sight, outlook);
  }

  private Outlook heed(List<String> signals, double metres, Outlook soFar) {
    Outlook outlook = soFar;
    for (String signal : obeysSignals ? signals : List.<String>of()) {
      AspectSpeed speed = speedBy(signal);
      if (speed == AspectSpeed.STOP) {
        return outlook.slowTo(stoppingShortOf(metres)).stopAt(signal);
      }
      outlook = outlook.slowTo(slowingTo(speed.part() * lineSpeed, metres));
    }
    return outlook;
  }

  private double stoppingShortOf(double metres) {
    return slowingTo(0, metres - STOP_SHORT_METRES);
  }

  /** The speed from which the service brake brings the train to {@code speed} in that distance. */
  private double slowingTo(double speed, double metres) {
    return metres <= THERE_METRES
        ? speed
        : Math.min(
            Math.sqrt(speed * speed + 2 * SERVICE_BRAKE * metres), speed + metres / stepSeconds);
  }
}
