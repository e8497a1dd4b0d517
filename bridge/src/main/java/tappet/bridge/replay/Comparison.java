package tappet.bridge.replay;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import tappet.bridge.replay.Spoken.Said;
import tappet.lcc.EventId;

/**
 * Finds for each event that the box says now the one that it said then: of the same device, the
 * same, and no further away in time than may be. All others differ; so does what is said in another
 * order than then.
 */
final class Comparison {

  /** An event that was said then. */
  record Output(long timeUs, EventId event, int line) {}

  /** Something that differs, before the box has been asked why. */
  record Finding(long timeUs, int line, Said said, String then, String now) {}

  private static final String NOTHING = "nothing";

  private final List<Output> then;
  private final Spoken spoken;
  private final long toleranceUs;

  /** By device: what was said to it and has not been said again yet, the first one first. */
  private final Map<String, Deque<Integer>> waiting = new HashMap<>();

  private final List<Finding> findings = new ArrayList<>();
  private int passed;
  private int latest = -1;
  private long latestUs;
  private long matched;
  private long furthestUs;

  Comparison(List<Output> then, Spoken spoken, long toleranceUs) {
    this.then = then;
    this.spoken = spoken;
    this.toleranceUs = toleranceUs;
    for (int index = 0; index < then.size(); index++) {
      waiting(said(index)).addLast(index);
    }
  }

  /** The box says an event now. */
  void says(EventId event, long timeUs, int line) {
    pass(timeUs);
    Said said = spoken.of(event);
    Deque<Integer> candidates = waiting(said);
    int same = same(candidates, event, timeUs);
    if (same >= 0) {
      leaveOutBefore(same, candidates);
      match(same, timeUs);
    } else if (!candidates.isEmpty() && isNear(candidates.element(), timeUs)) {
      int other = candidates.remove();
      latest = Math.max(latest, other);
      found(other, spoken.of(then.get(other).event()).what(), said.what());
    } else {
      findings.add(new Finding(timeUs, line, said, NOTHING, said.what()));
    }
  }

  private int same(Deque<Integer> candidates, EventId event, long timeUs) {
    for (int index : candidates) {
      if (!isNear(index, timeUs)) {
        return -1;
      }
      if (then.get(index).event().equals(event)) {
        return index;
      }
    }
    return -1;
  }

  /** What was said long ago has been let go already. */
  private boolean isNear(int index, long timeUs) {
    return then.get(index).timeUs() <= timeUs + toleranceUs;
  }

  private void leaveOutBefore(int index, Deque<Integer> candidates) {
    for (int before = candidates.remove(); before != index; before = candidates.remove()) {
      found(before, said(before).what(), NOTHING);
    }
  }

  /** Of what was said at one moment, and is so now, the order counts: Stop comes first. */
  private void match(int index, long timeUs) {
    matched++;
    furthestUs = Math.max(furthestUs, Math.abs(timeUs - then.get(index).timeUs()));
    boolean atOneMoment =
        latest >= 0 && timeUs == latestUs && then.get(index).timeUs() == then.get(latest).timeUs();
    if (atOneMoment && index < latest) {
      String other = "%s: %s".formatted(said(latest).device(), said(latest).what());
      String what = said(index).what();
      found(index, what + ", before " + other, what + ", after " + other);
    }
    latest = Math.max(latest, index);
    latestUs = timeUs;
  }

  /** Time has passed: what is not said by now is not said any more. */
  void pass(long nowUs) {
    while (passed < then.size() && then.get(passed).timeUs() < nowUs - toleranceUs) {
      Deque<Integer> candidates = waiting(said(passed));
      if (!candidates.isEmpty() && candidates.element() == passed) {
        candidates.remove();
        found(passed, said(passed).what(), NOTHING);
      }
      passed++;
    }
  }

  /** Forgets what was said up to a line of the recording, then and now. */
  void forget(int line) {
    waiting.values().forEach(all -> all.removeIf(index -> then.get(index).line() <= line));
    findings.clear();
  }

  /** What has been found to differ since this was last asked. */
  List<Finding> take() {
    List<Finding> taken = List.copyOf(findings);
    findings.clear();
    return taken;
  }

  /** How many events were said as then. */
  long matched() {
    return matched;
  }

  /** How far one of them was from its time then, at most. */
  long furthestUs() {
    return furthestUs;
  }

  private void found(int index, String before, String now) {
    Output output = then.get(index);
    findings.add(new Finding(output.timeUs(), output.line(), said(index), before, now));
  }

  private Said said(int index) {
    return spoken.of(then.get(index).event());
  }

  private Deque<Integer> waiting(Said said) {
    return waiting.computeIfAbsent(said.device(), any -> new ArrayDeque<>());
  }
}
