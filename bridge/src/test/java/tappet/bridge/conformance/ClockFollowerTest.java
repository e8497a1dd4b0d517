package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.bridge.JavaProcess;

/** The clock that the device follows; the tester generates it (S-9.7.4.5 §6). */
class ClockFollowerTest extends ClockBench {

  private static List<Heard> start;

  @BeforeAll
  static void switchOn() throws IOException {
    start = switchOn("{mode: follow}", "195B4... " + event(QUERY));
  }

  @BeforeEach
  void standsAtTenPastEight() {
    identify(STOP, "4010", "37A1", "2A03", "080A");
    report("080A");
    assertShows("stands at 08:10");
  }

  /** What its generator tells in a sync sequence. */
  private static void identify(String... lows) {
    for (String low : lows) {
      tester.send("19544ttt" + event(low));
    }
  }

  /** What the device tells people of its clock, once it has heard everything. */
  private static void assertShows(String words) {
    tester.settle();
    String why = dut.why("clock");
    assertTrue(why.contains(words), why);
  }

  @Test
  @Checks({50, 99})
  void advertisesAllTimesAndItsQueryAndThenAsks() {
    // S-9.7.4.5 §6.1, S-9.7.3.1 §6
    List<String> ofClock =
        start.stream()
            .filter(heard -> heard.isMessage() && heard.data().startsWith("010100000100"))
            .map(heard -> heard.header().substring(0, 5) + " " + low(heard))
            .toList();
    assertTrue(ofClock.contains("194A4 FFFF"), ofClock::toString);
    assertEquals("195B4 F000", ofClock.get(ofClock.size() - 1));
    assertTrue(ofClock.get(ofClock.size() - 2).matches("1954[457] F000"), ofClock::toString);
  }

  @ParameterizedTest
  @CsvSource({
    "set clock to 09:15, 890F",
    "set clock rate to 6, C018",
    "start clock, F002",
    "stop clock, F001"
  })
  @Checks({99})
  void advertisesWhatItAsksOfItsGeneratorBeforeItAsks(String sentence, String low) {
    // S-9.7.3.1 §6
    String answer = dut.tell(sentence);
    assertFalse(answer.startsWith("refused"), answer);
    tester.expect("1954[457]ddd" + event(low));
    tester.expect("195B4ddd" + event(low));
  }

  @Test
  @Checks({100})
  void showsWhatTheSyncSequenceTells() {
    // S-9.7.4.5 §6.2, §6.3
    identify(START, "4008", "37E9", "230C", "1106");
    assertShows("shows 17:06 and runs at 2:1");
    identify(STOP, "4010", "37E9", "230C", "1106");
    assertShows("stands at 17:06; its rate is 4:1");
  }

  @Test
  @Checks({100})
  void obeysReports() {
    // S-9.7.4.5 §6.2
    report("0B1E", "4008");
    assertShows("stands at 11:30; its rate is 2:1");
    report(START);
    assertShows("shows 11:30 and runs at 2:1");
    report(STOP, "0800");
    assertShows("stands at 08:00");
  }

  @Test
  @Checks({100})
  void keepsTheTimeBetweenReports() {
    // S-9.7.4.5 §6.2: at the highest rate a minute lasts 117 ms
    report("47FF", START);
    Awaitility.await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> dut.why("clock"), why -> why.contains("shows") && !why.contains("08:10"));
  }

  @Test
  @Checks({100})
  void goesOverMidnightWithItsGenerator() {
    // S-9.7.4.5 §6.2
    report("173B", START, ROLLOVER, "0000");
    assertShows("shows 00:00");
    report(STOP);
  }

  @Test
  @Checks({98})
  void reservedEventsChangeNothing() throws IOException {
    // S-9.7.4.5 §4.12
    List<String> reserved =
        Published.texts(
            Published.read("broadcast-time.json").get("reserved_ignore_on_receipt").get("low16"));
    report(reserved.toArray(String[]::new));
    identify(reserved.toArray(String[]::new));
    assertShows("stands at 08:10; its rate is 4:1");
  }
}
