package tappet.bridge.replay;

import java.util.List;
import java.util.Locale;

/** What came of a replay, for people. */
public final class ReplayReport {

  /** So many differences are told; the first one is mostly the cause of the others. */
  public static final int DIFFERENCES_TOLD_MAX = 50;

  private static final double US_PER_SECOND = 1e6;
  private static final double US_PER_MS = 1e3;

  private ReplayReport() {}

  /**
   * One session.
   *
   * @param file the recording, as its owner has named it
   * @param shown the differences to be told
   */
  public static String text(String file, Outcome outcome, List<Difference> shown) {
    StringBuilder text = new StringBuilder();
    outcome.remarks().forEach(remark -> text.append("note: ").append(remark).append('\n'));
    shown.stream()
        .limit(DIFFERENCES_TOLD_MAX)
        .forEach(difference -> append(text, file, outcome.beganUs(), difference));
    if (shown.size() > DIFFERENCES_TOLD_MAX) {
      text.append("and %d more%n".formatted(shown.size() - DIFFERENCES_TOLD_MAX));
    }
    String verdict = verdict(outcome, shown);
    text.append(
        String.format(
            Locale.ROOT,
            "%s: %s of a session; %d frames and requests, %d events and %d answers as then, at most"
                + " %.3f ms apart%n",
            verdict,
            seconds(outcome.endedUs() - outcome.beganUs()),
            outcome.inputs(),
            outcome.events(),
            outcome.answers(),
            outcome.furthestUs() / US_PER_MS));
    return text.toString();
  }

  private static String verdict(Outcome outcome, List<Difference> shown) {
    if (!outcome.compared()) {
      return "NOT COMPARED";
    }
    return shown.isEmpty()
        ? "no difference"
        : shown.size() + (shown.size() == 1 ? " DIFFERENCE" : " DIFFERENCES");
  }

  private static void append(StringBuilder text, String file, long beganUs, Difference difference) {
    text.append(
        "%s:%d:1: after %s%n"
            .formatted(file, difference.line(), seconds(difference.timeUs() - beganUs)));
    text.append("  ").append(difference.about()).append('\n');
    indent(text, "    then: ", difference.then());
    indent(text, "    now:  ", difference.now());
    difference.why().forEach(why -> indent(text, "    why:  ", why));
  }

  private static void indent(StringBuilder text, String first, String lines) {
    String margin = first;
    for (String line : lines.lines().toList()) {
      text.append(margin).append(line).append('\n');
      margin = " ".repeat(first.length());
    }
  }

  private static String seconds(long us) {
    return String.format(Locale.ROOT, "%.3f s", us / US_PER_SECOND);
  }
}
