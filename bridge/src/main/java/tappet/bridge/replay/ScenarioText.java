package tappet.bridge.replay;

import static tappet.source.YamlText.quoted;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.node.ClockPlan;
import tappet.sentence.ClockTexts;

/** The file of a scenario that was told. */
final class ScenarioText {

  private static final long US_PER_SECOND = 1_000_000L;
  private static final double US_PER_MS = 1e3;

  /**
   * Where a scenario begins.
   *
   * @param timeUs since the daemon's start, in microseconds; 0 where it begins with that
   * @param expected by device: what it had been told
   * @param clock the layout's clock when the daemon of the scenario is switched on
   */
  record Beginning(long timeUs, Map<String, String> expected, Optional<ClockPlan.Run> clock) {

    /** Whether all of the session is told. */
    boolean isWhole() {
      return timeUs == 0;
    }
  }

  private final String railroad;
  private final Beginning beginning;
  private final StringBuilder text = new StringBuilder();

  private ScenarioText(String railroad, Beginning beginning) {
    this.railroad = railroad;
    this.beginning = beginning;
  }

  /**
   * The file.
   *
   * @param name of the scenario
   * @param railroad the layout's name
   * @param given what is so from the beginning, a sentence each
   * @param steps in the order of their times
   */
  static String of(
      String name,
      String railroad,
      Beginning beginning,
      List<String> given,
      List<ToldSteps.Step> steps) {
    ScenarioText file = new ScenarioText(railroad, beginning);
    file.writeHead(name);
    file.writeGiven(given);
    file.writeSteps(steps);
    return file.text.toString();
  }

  private void writeHead(String name) {
    text.append("# Written by 'tappet replay'.\n");
    text.append("scenario: ").append(quoted(name)).append('\n');
    text.append(about());
    if (beginning.isWhole()) {
      text.append("begins: switched on\n");
    }
    beginning.clock().ifPresent(this::writeClock);
  }

  private String about() {
    String begins =
        beginning.isWhole()
            ? "from the start of the daemon on"
            : "from %d s after the start of the daemon on, when nothing was lined"
                .formatted(beginning.timeUs() / US_PER_SECOND);
    return """
        about: >-
          What the boards of '%s' reported and people asked in a recorded session, %s, and what the
          signals, locks, lamps, crossings and bolts were told then. Trains are not on this track:
          each report of a board is told as it was heard, whatever caused it, and no board of the
          simulator says anything else.
        """
        .formatted(railroad.replace("\n", " "), begins);
  }

  private void writeClock(ClockPlan.Run clock) {
    text.append(
        "clock: {rate: %s, time: '%02d:%02d'}%n"
            .formatted(
                ClockTexts.words(clock.rate()).replace(":1", ""),
                clock.time().hour(),
                clock.time().minute()));
  }

  private void writeGiven(List<String> given) {
    text.append("given:\n");
    given.forEach(sentence -> text.append("  - ").append(quoted(sentence)).append('\n'));
  }

  private void writeSteps(List<ToldSteps.Step> steps) {
    text.append("steps:\n");
    if (!beginning.isWhole()) {
      beginning
          .expected()
          .values()
          .forEach(sentence -> write(ToldSteps.expectation(sentence, ToldSteps.WITHIN_OF_A_BOLT)));
    }
    long toldUs = beginning.timeUs();
    for (ToldSteps.Step step : steps) {
      long passes = step.timeUs() - toldUs;
      if (passes > 0) {
        write(String.format(Locale.ROOT, "pass: %.3f ms", passes / US_PER_MS));
        toldUs = step.timeUs();
      }
      write(step.text());
    }
    write("pass: 1 s");
  }

  private void write(String step) {
    text.append("  - ").append(step).append('\n');
  }
}
