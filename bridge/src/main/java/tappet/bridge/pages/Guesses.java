package tappet.bridge.pages;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Who has tried wrong PINs. After a few from one address it has to wait, and longer each time; so
 * has everybody when many addresses try.
 */
final class Guesses {

  /** So many are free. */
  static final int FREE = 5;

  /** All addresses together. */
  static final int FREE_OF_ALL = 40;

  static final Duration FIRST_WAIT = Duration.ofSeconds(30);
  static final Duration LONGEST_WAIT = Duration.ofMinutes(15);
  private static final int ADDRESSES_MAX = 500;
  private static final int DOUBLINGS_MAX = 10;
  private static final String ALL = "*";

  private static final class Wrong {
    private int count;
    private long freeAtNs;
  }

  private final Map<String, Wrong> byAddress = new LinkedHashMap<>();

  /** How long an address must wait before it may try; zero where it need not. */
  Duration wait(String address, long nowNs) {
    long leftNs = Math.max(left(ALL, nowNs), left(address, nowNs));
    return Duration.ofNanos(Math.max(0, leftNs));
  }

  private long left(String address, long nowNs) {
    Wrong wrong = byAddress.get(address);
    return wrong == null ? 0 : wrong.freeAtNs - nowNs;
  }

  /** How many tries are left before an address has to wait. */
  int triesLeft(String address) {
    Wrong wrong = byAddress.get(address);
    return Math.max(0, FREE - (wrong == null ? 0 : wrong.count));
  }

  void wrong(String address, long nowNs) {
    count(address, FREE, nowNs);
    count(ALL, FREE_OF_ALL, nowNs);
  }

  private void count(String address, int free, long nowNs) {
    if (byAddress.size() >= ADDRESSES_MAX && !byAddress.containsKey(address)) {
      byAddress.remove(byAddress.keySet().iterator().next());
    }
    Wrong wrong = byAddress.computeIfAbsent(address, none -> new Wrong());
    wrong.count++;
    if (wrong.count >= free) {
      int doublings = Math.min(DOUBLINGS_MAX, wrong.count - free);
      Duration wait = FIRST_WAIT.multipliedBy(1L << doublings);
      Duration bounded = wait.compareTo(LONGEST_WAIT) > 0 ? LONGEST_WAIT : wait;
      wrong.freeAtNs = nowNs + bounded.toNanos();
    }
  }

  void right(String address) {
    byAddress.remove(address);
  }
}
