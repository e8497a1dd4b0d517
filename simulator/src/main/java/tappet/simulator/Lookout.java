package tappet.simulator;

import java.util.OptionalDouble;

/** What an engineer sees of other trains. */
@FunctionalInterface
interface Lookout {

  /**
   * How far it is from a train's head to the next train in its way, as the switches lie.
   *
   * @param sightMetres farther than this nothing is seen
   */
  OptionalDouble metresToTrain(Consist consist, double sightMetres);
}
