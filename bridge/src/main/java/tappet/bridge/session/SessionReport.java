package tappet.bridge.session;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;

/** Tells people how a session went: a line a run, and what the dispatcher did in numbers. */
final class SessionReport {

  private static final int REASON_MAX = 160;

  private final String name;
  private final FastTime clock;
  private final List<Run> runs;

  SessionReport(String name, FastTime clock, List<Run> runs) {
    this.name = name;
    this.clock = clock;
    this.runs = runs;
  }

  String text(List<String> numbers, Optional<String> failure) {
    int width = runs.stream().mapToInt(run -> run.train().length()).max().orElse(0);
    StringBuilder text = new StringBuilder(name).append('\n');
    for (Run run : runs) {
      text.append(line(run, width)).append('\n');
      run.longestReason()
          .ifPresent(
              why -> text.append("    longest because: ").append(inOneLine(why)).append('\n'));
    }
    long arrived = runs.stream().filter(run -> run.endedMinute().isPresent()).count();
    text.append("%d of %d runs arrived\n".formatted(arrived, runs.size()));
    numbers.forEach(number -> text.append(number).append('\n'));
    failure.ifPresent(what -> text.append("FAILED: ").append(what).append('\n'));
    return text.toString();
  }

  /** The whole of a refusal may fill a page; its beginning says which way was asked for. */
  private static String inOneLine(String text) {
    String line = text.replaceAll("\\s*\\R\\s*", " ");
    return line.length() <= REASON_MAX ? line : line.substring(0, REASON_MAX) + "…";
  }

  private String line(Run run, int width) {
    return ("  %-" + width + "s  planned %s, began %s, arrived %s, waited %d s")
        .formatted(
            run.train(),
            clock.words(run.plannedMinute()),
            time(run.beganMinute()),
            time(run.endedMinute()),
            TimeUnit.NANOSECONDS.toSeconds(run.waitedNs()));
  }

  private String time(OptionalLong minute) {
    return minute.isPresent() ? clock.words(minute.getAsLong()) : "never";
  }
}
