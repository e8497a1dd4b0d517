package tappet.bridge.replay;

import java.util.List;

/**
 * What came of replaying one session.
 *
 * @param beganUs when the session begins, in microseconds since 1970-01-01 00:00 UTC
 * @param endedUs when it ends
 * @param differences what is otherwise now, in order
 * @param remarks what people should know of the session, in plain words
 * @param inputs frames and requests that the box was given
 * @param events events that it said as then
 * @param answers answers that it gave as then
 * @param furthestUs how far an event was from its time then, at most, in microseconds
 * @param compared whether anything could be compared
 */
public record Outcome(
    long beganUs,
    long endedUs,
    List<Difference> differences,
    List<String> remarks,
    long inputs,
    long events,
    long answers,
    long furthestUs,
    boolean compared) {

  public Outcome {
    differences = List.copyOf(differences);
    remarks = List.copyOf(remarks);
  }

  /** Whether the box says now what it said then, and all of it could be compared. */
  public boolean same() {
    return differences.isEmpty() && compared;
  }
}
