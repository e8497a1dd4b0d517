package tappet.simulator;

import java.util.List;
import java.util.Optional;

/**
 * Looks along the road as far as the train takes to stop, and says how fast it may run.
 *
 * <p>The engineer brakes so as to stop short of a signal at Stop and of the end of track, and to go
 * by any other signal at the speed of its aspect.
 */
final class Engineer {

  /** How fast a train slows with the service brake, in m/s². */
  static final double SERVICE_BRAKE = 0.2;

  /** How far before a signal or the end of track a train comes to a stand. */
  static final double STOP_SHORT_METRES = 0.05;

  /** Nearer than this is there: rounding must not make a train creep for ever. */
  private static final double THERE_METRES = 1e-6;

  private final Road road;
  private final double lineSpeed;
  private final double sightMetres;
  private final double stepSeconds;
  private boolean obeysSignals = true;

  /**
   * @param lineSpeed the train's own speed, in m/s
   * @param stepSeconds how long a speed is kept before the engineer looks again
   */
  Engineer(Road road, double lineSpeed, double stepSeconds) {
    this.road = road;
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

  /**
   * What the road ahead allows.
   *
   * @param limit the speed the train may have where it is
   */
  Outlook look(Consist consist, double limit) {
    return look(consist.head(), consist.metresAhead(), Outlook.open(limit));
  }

  /**
   * @param metres from the train's head to the end of {@code run}
   */
  private Outlook look(Run run, double metres, Outlook soFar) {
    if (metres >= sightMetres) {
      return soFar;
    }
    Optional<Run.Exit> exit = road.beyond(run);
    if (exit.isEmpty()) {
      return soFar.slowTo(stoppingShortOf(metres)).stopAtEndOfTrack();
    }
    Outlook outlook = heed(exit.get().signals(), metres, soFar);
    Run next = exit.get().run();
    return outlook.stops() ? outlook : look(next, metres + next.lengthMetres(), outlook);
  }

  private Outlook heed(List<String> signals, double metres, Outlook soFar) {
    Outlook outlook = soFar;
    for (String signal : obeysSignals ? signals : List.<String>of()) {
      AspectSpeed speed = road.speedBy(signal);
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
