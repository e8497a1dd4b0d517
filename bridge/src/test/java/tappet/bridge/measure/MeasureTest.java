package tappet.bridge.measure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Measuring must go on working; how fast this machine is today is no matter of a test. */
class MeasureTest {

  @Test
  void everyDropOfASignalIsAnsweredBySignalEvent() throws Exception {
    Matcher check =
        found(
            "reaction",
            "check value: (\\d+) drops, (\\d+) unanswered, \\d+ skipped.*, (\\d+) without a reason");
    assertTrue(Integer.parseInt(check.group(1)) > 0, check.group());
    assertEquals("0", check.group(2));
    assertEquals("0", check.group(3));
  }

  @Test
  void demoStartsPutsEverySignalToStopAndRunsTrains() throws Exception {
    Matcher check =
        found("footprint", "check value: (\\d+) sentences done, (\\d+) events reported");
    assertTrue(Integer.parseInt(check.group(2)) > 0, check.group());
  }

  @Test
  void rehearsedTrainsArriveWithoutAMishap() throws Exception {
    Matcher check =
        found("rehearse", "check value: (\\d+) arrivals, (\\d+) mishaps, (\\d+) frames");
    assertTrue(Integer.parseInt(check.group(1)) > 0, check.group());
    assertEquals("0", check.group(2));
  }

  @Test
  void journalOfTheDemoGrowsAndLosesNothing() throws Exception {
    Matcher check =
        found("journal", "check value: (\\d+) frames of a round handed over, (\\d+) lost");
    assertEquals("0", check.group(2));
  }

  private static Matcher found(String kind, String pattern) throws Exception {
    ByteArrayOutputStream told = new ByteArrayOutputStream();
    Measure.tiny(kind, new PrintStream(told, true, StandardCharsets.UTF_8));
    String text = told.toString(StandardCharsets.UTF_8);
    Matcher matcher = Pattern.compile(pattern).matcher(text);
    assertTrue(matcher.find(), text);
    return matcher;
  }
}
