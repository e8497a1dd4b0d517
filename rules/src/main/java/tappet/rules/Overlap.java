package tappet.rules;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import tappet.layout.Position;

/**
 * What is kept free and locked beyond the end of a route, should its train run past.
 *
 * @param clear the sections that must be clear
 * @param switches how the switches in it and beside it must lie
 * @param time how long it stays locked once the train stands in the last section of the route
 */
public record Overlap(List<String> clear, Map<String, Position> switches, Duration time) {}
