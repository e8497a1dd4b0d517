package tappet.bridge.session;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/** One run of a train: what was planned, what came of it, and why it waited. */
public final class Run {

  private final String train;
  private final long plannedMinute;
  private OptionalLong beganMinute = OptionalLong.empty();
  private OptionalLong endedMinute = OptionalLong.empty();
  private final Map<String, Long> waitedNs = new LinkedHashMap<>();

  Run(String train, long plannedMinute) {
    this.train = train;
    this.plannedMinute = plannedMinute;
  }

  void begin(long minute) {
    beganMinute = OptionalLong.of(minute);
  }

  void end(long minute) {
    endedMinute = OptionalLong.of(minute);
  }

  void waited(String why, long ns) {
    waitedNs.merge(why, ns, Long::sum);
  }

  /** The train's name. */
  public String train() {
    return train;
  }

  /** When it was to begin, in minutes of the fast clock since the session began. */
  public long plannedMinute() {
    return plannedMinute;
  }

  /** When it began; empty if it has not. */
  public OptionalLong beganMinute() {
    return beganMinute;
  }

  /** When it was through with all it had to do; empty if it is not. */
  public OptionalLong endedMinute() {
    return endedMinute;
  }

  /** How long it has waited for others in all, in nanoseconds of the railroad's time. */
  public long waitedNs() {
    return waitedNs.values().stream().mapToLong(Long::longValue).sum();
  }

  /** For what it has waited longest. */
  public Optional<String> longestReason() {
    return waitedNs.entrySet().stream().max(Map.Entry.comparingByValue()).map(Map.Entry::getKey);
  }

  static Comparator<Run> byPlan() {
    return Comparator.comparingLong(Run::plannedMinute);
  }
}
