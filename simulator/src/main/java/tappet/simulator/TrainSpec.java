package tappet.simulator;

import tappet.sentence.Command;

/**
 * A train to be placed on the track, where it stands until it is told to run.
 *
 * @param name the train's name
 * @param section the section it stands in; where it is longer, its rear stands in the sections
 *     behind
 * @param heading along the drawn plan: {@code EAST} is where x grows
 * @param lengthMetres from coupler to coupler, above 0
 * @param speedMetresPerSecond the speed it runs at where nothing restricts it, above 0 and at most
 *     {@value #METRES_PER_SECOND_MAX}
 * @param engine whether it has an engine, at its head; a cut of cars has none and does not run
 */
public record TrainSpec(
    String name,
    String section,
    Command.Heading heading,
    double lengthMetres,
    double speedMetresPerSecond,
    boolean engine) {

  /** No model runs faster; one that did would be past a detector before that is looked at. */
  public static final int METRES_PER_SECOND_MAX = 10;

  public TrainSpec {
    requireAboveZero("length", lengthMetres);
    requireAboveZero("speed", speedMetresPerSecond);
    if (speedMetresPerSecond > METRES_PER_SECOND_MAX) {
      throw new IllegalArgumentException(
          "speed " + speedMetresPerSecond + ", at most " + METRES_PER_SECOND_MAX);
    }
  }

  /** A train with an engine. */
  public TrainSpec(
      String name,
      String section,
      Command.Heading heading,
      double lengthMetres,
      double speedMetresPerSecond) {
    this(name, section, heading, lengthMetres, speedMetresPerSecond, true);
  }

  private static void requireAboveZero(String what, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(what + " " + value + ", expected above 0");
    }
  }
}
