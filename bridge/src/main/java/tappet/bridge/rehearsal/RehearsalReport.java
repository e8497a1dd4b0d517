package tappet.bridge.rehearsal;

import java.util.List;

/**
 * How scenarios went, for people.
 *
 * @param results one for each, in the order in which they were run
 */
public record RehearsalReport(List<Result> results) {

  private static final int FAILED = 1;

  public RehearsalReport {
    results = List.copyOf(results);
  }

  /** The exit status of {@code tappet rehearse}: 0 if every scenario went as expected. */
  public int exitStatus() {
    return results.stream().allMatch(Result::passed) ? 0 : FAILED;
  }

  /** One scenario; more than a line where it did not go as expected. */
  public static String text(Result result) {
    String verdict = result.passed() ? "passed" : "FAILED";
    String line =
        "%s  %s (%s)%n"
            .formatted(verdict, result.scenario().name(), Chronicle.time(result.tookNs()));
    return line + result.failure().map(RehearsalReport::text).orElse("");
  }

  private static String text(Failure failure) {
    StringBuilder text = new StringBuilder();
    text.append("  %s: %s%n".formatted(failure.place(), failure.step()));
    text.append(indented("after %s %s".formatted(Chronicle.time(failure.atNs()), failure.wrong())));
    failure.why().forEach(why -> text.append(indented("why: " + why)));
    text.append(indented("what happened last:"));
    failure.events().forEach(event -> text.append(indented("  " + event)));
    return text.toString();
  }

  private static String indented(String lines) {
    StringBuilder text = new StringBuilder();
    lines.lines().forEach(line -> text.append("    ").append(line).append('\n'));
    return text.toString();
  }

  /** How many of them went as expected. */
  public String summary() {
    long passed = results.stream().filter(Result::passed).count();
    return "%d of %d scenarios passed%n".formatted(passed, results.size());
  }
}
