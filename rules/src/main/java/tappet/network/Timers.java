package tappet.network;

import java.util.Comparator;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.TreeSet;

/**
 * The times a network has asked for and when they are due. Times that are due together run out in
 * the order in which they were started, so that a replay sees the same order.
 */
public final class Timers {

  private record Due(long atNs, long sequence, Timer timer) {}

  private final VariableTable<Optional<Timer>> byRunning;
  private final Map<Variable, Due> running = new HashMap<>();
  private final TreeSet<Due> due =
      new TreeSet<>(Comparator.comparingLong(Due::atNs).thenComparingLong(Due::sequence));
  private long started;

  public Timers(Network network) {
    byRunning = new VariableTable<>(network, Optional.empty());
    network.timers().forEach(timer -> byRunning.put(timer.running(), Optional.of(timer)));
  }

  /** Starts or stops the time that {@code variable} asks for, if it asks for one. */
  public void follow(Variable variable, boolean value, long nowNs) {
    Optional<Timer> timer = byRunning.get(variable);
    if (timer.isPresent() && value) {
      start(timer.get(), nowNs);
    } else if (timer.isPresent()) {
      stop(variable);
    }
  }

  /** When the next time runs out. */
  public OptionalLong nextNs() {
    return due.isEmpty() ? OptionalLong.empty() : OptionalLong.of(due.first().atNs());
  }

  /** Takes the next time that has run out by {@code nowNs}. */
  public Optional<Timer> takeDue(long nowNs) {
    if (due.isEmpty() || due.first().atNs() > nowNs) {
      return Optional.empty();
    }
    Due first = due.pollFirst();
    running.remove(first.timer().running());
    return Optional.of(first.timer());
  }

  /** When the time asked for by {@code variable} runs out, if it runs. */
  public OptionalLong dueNs(Variable variable) {
    Due found = running.get(variable);
    return found == null ? OptionalLong.empty() : OptionalLong.of(found.atNs());
  }

  /**
   * Goes on where the times of another network stand: one of the same name is due when it is due
   * there, and one that only this network asks for begins.
   *
   * @param asking the run of this network
   */
  public void goOn(Timers before, Stepper asking, long nowNs) {
    running.clear();
    due.clear();
    before.due.forEach(
        other ->
            asking
                .network()
                .find(other.timer().running().name())
                .flatMap(byRunning::get)
                .filter(timer -> timer.isRunning(asking))
                .ifPresent(timer -> run(timer, other.atNs())));
    for (Timer timer : asking.network().timers()) {
      if (timer.isRunning(asking) && !running.containsKey(timer.running())) {
        start(timer, nowNs);
      }
    }
  }

  private void start(Timer timer, long nowNs) {
    stop(timer.running());
    long durationNs = timer.duration().toNanos();
    run(timer, nowNs > Long.MAX_VALUE - durationNs ? Long.MAX_VALUE : nowNs + durationNs);
  }

  private void run(Timer timer, long untilNs) {
    Due next = new Due(untilNs, started++, timer);
    running.put(timer.running(), next);
    due.add(next);
  }

  private void stop(Variable variable) {
    Due stopped = running.remove(variable);
    if (stopped != null) {
      due.remove(stopped);
    }
  }
}
