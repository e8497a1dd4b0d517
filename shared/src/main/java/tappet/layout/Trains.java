package tappet.layout;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;

/**
 * What the owner knows of trains here, which no plan shows. The proof judges rules by how they run;
 * cars are counted by their length. Nothing runs by it.
 *
 * @param stopWithin the longest that any train takes to stop once its engineer sees that it must;
 *     above 0; empty where not given
 * @param stoppingDistance the longest way that it takes for that, in metres, above 0; empty where
 *     not given
 * @param slowOver the leg of a switch that trains must not take at the speed of the main, by the id
 *     of the switch
 * @param carLength of a car, or an engine, from coupler to coupler, in metres, above 0; empty where
 *     not given
 */
public record Trains(
    Optional<Duration> stopWithin,
    Optional<Double> stoppingDistance,
    Map<String, Position> slowOver,
    Optional<Double> carLength) {

  /** Nothing is known. */
  public static final Trains UNKNOWN =
      new Trains(Optional.empty(), Optional.empty(), Map.of(), Optional.empty());
}
