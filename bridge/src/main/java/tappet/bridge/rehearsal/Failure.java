package tappet.bridge.rehearsal;

import java.util.List;
import tappet.source.Place;

/**
 * Where a scenario did not go as expected.
 *
 * @param place where the step stands
 * @param step the step as it is written
 * @param wrong what is wrong, in one line or more
 * @param why what the box says about it; empty where it says nothing
 * @param events the last things that happened, each with its time
 * @param atNs when it failed, in nanoseconds since the first step
 */
public record Failure(
    Place place, String step, String wrong, List<String> why, List<String> events, long atNs) {

  public Failure {
    why = List.copyOf(why);
    events = List.copyOf(events);
  }
}
