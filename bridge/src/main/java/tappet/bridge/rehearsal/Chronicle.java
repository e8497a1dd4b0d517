package tappet.bridge.rehearsal;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Locale;

/** The last things that happened, for people. */
final class Chronicle {

  private static final int LINES_MAX = 12;
  private static final double NS_PER_SECOND = 1e9;

  private final Deque<String> lines = new ArrayDeque<>();
  private long zeroNs;

  /** Forgets what was before; times are told from this moment on. */
  void beginAt(long nowNs) {
    lines.clear();
    zeroNs = nowNs;
  }

  void note(String what, long nowNs) {
    lines.addLast(time(nowNs - zeroNs) + "  " + what);
    if (lines.size() > LINES_MAX) {
      lines.removeFirst();
    }
  }

  List<String> last() {
    return List.copyOf(lines);
  }

  /** A time as people read it: {@code 12.350 s}. */
  static String time(long ns) {
    return String.format(Locale.ROOT, "%.3f s", ns / NS_PER_SECOND);
  }
}
