package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The clock that the device generates (S-9.7.4.5 §6). */
class ClockProducerTest extends ClockBench {

  private static final long SETTLE_NS = TimeUnit.SECONDS.toNanos(3);
  private static final int SYNC_FRAMES = 5;

  /** A minute of the layout in a second, and the highest rate either way: one in 117 ms. */
  private static final String RATE_60 = "C0F0";

  private static final String FASTEST = "C7FF";
  private static final String FASTEST_BACK = "C801";

  private static List<Heard> start;

  @BeforeAll
  static void switchOn() throws IOException {
    start = switchOn("{mode: run, rate: 2, time: 06:00}", "19544... " + event("0600"));
  }

  /** So that nothing of an earlier test is heard, and no sync sequence comes for three seconds. */
  @BeforeEach
  void stands() {
    report(STOP);
    tester.settle();
  }

  @Test
  @Checks({50, 89})
  void startsWithItsRangesAndThenTheSyncSequence() {
    // S-9.7.4.5 §6.1, §6.3: all 65536 events; running, rate 2, 2000-01-01, 06:00
    List<String> ofClock =
        start.stream()
            .filter(heard -> heard.isMessage() && heard.data().startsWith("010100000100"))
            .map(heard -> heard.header().substring(0, 5) + " " + low(heard))
            .toList();
    assertEquals(List.of("194A4 FFFF", "19524 FFFF"), ofClock.stream().limit(2).sorted().toList());
    assertEquals(
        List.of("19544 F002", "19544 4008", "19544 37D0", "19544 2101", "19544 0600"),
        ofClock.subList(2, ofClock.size()));
  }

  @Test
  @Checks({90, 91})
  void queryIsAnsweredByTheSyncSequence() throws IOException {
    // S-9.7.4.5 §6.3, §6.4: the published example, set beforehand
    JsonNode example = Published.read("broadcast-time.json").get("sync_sequence_example");
    report("B7A1", "AA03", "880A", "C010", START, QUERY);
    assertEquals(
        Published.texts(example.get("expected_in_order")).stream()
            .map(text -> text.substring(text.length() - 5, text.length() - 1))
            .toList(),
        hearSync());
  }

  @Test
  @Checks({90, 95})
  void afterTheSyncSequenceOnlyTheNextMinuteIsReported() {
    // S-9.7.4.5 §6.2, §6.3
    report("8A1E", RATE_60, START, QUERY);
    expectReports("0A1E", "40F0");
    assertEquals("0A1E", hearSync().get(SYNC_FRAMES - 1));
    expectReports("0A1F");
    tester.expectSilence(1500);
  }

  @ParameterizedTest
  @CsvSource({"8810, 0810", "A30C, 230C", "B7E9, 37E9", "C010, 4010", "CFFE, 4FFE", "C47F, 447F"})
  @Checks({91})
  void whatIsSetIsReportedAtOnce(String set, String reported) {
    // S-9.7.4.5 §6.5
    report(set);
    tester.expect("195B4ddd" + event(reported));
  }

  @Test
  @Checks({91, 92, 93})
  void changesOneBehindTheOtherLeadToOneSyncSequenceThreeSecondsAfterTheLast() {
    // S-9.7.4.5 §5, §6.5; the clock stands meanwhile, though a minute would last a second
    report(RATE_60, "B7A1");
    expectReports("40F0", "37A1");
    tester.expectSilence(500);
    report("AA03");
    expectReports("2A03");
    tester.expectSilence(500);
    report("880A");
    long lastNs = tester.saidNs();
    expectReports("080A");
    Heard first = tester.hear();
    assertTrue(tester.matches(first, "19544ddd" + event(STOP)), first::toString);
    assertTrue(first.atNs() - lastNs >= SETTLE_NS, first::toString);
    assertEquals(List.of("40F0", "37A1", "2A03", "080A"), hearIdentified(SYNC_FRAMES - 1));
    tester.sendInVain();
  }

  @Test
  @Checks({93})
  void startAndStopTakeEffectAtOnceAndAreFollowedByTheSyncSequence() {
    // S-9.7.4.5 §5, §6.5: three seconds are three minutes here
    report(RATE_60, "8900", START);
    long startedNs = tester.saidNs();
    expectReports("40F0", "0900");
    List<String> running = hearSync();
    assertTrue(System.nanoTime() - startedNs >= SETTLE_NS);
    assertEquals(START, running.get(0));
    assertTrue(running.get(4).compareTo("0903") >= 0, running::toString);
    report(STOP, QUERY);
    assertEquals(STOP, hearSync().get(0));
  }

  @Test
  @Checks({94})
  void rateZeroStopsTheClockAndItsRateStays() {
    // S-9.7.4.5 §6.5, TN-9.7.4.5 §2.4.4: every rate but zero is supported
    report("C010", START, "C000", QUERY);
    expectReports("4010", "4010");
    assertEquals(List.of(STOP, "4010"), hearSync().subList(0, 2));
  }

  @Test
  @Checks({96})
  void minuteThatSomebodyWaitsForIsReportedEachTimeItComes() {
    // S-9.7.4.5 §6.2: a minute lasts 117 ms; a range is nobody who waits for a minute
    tester.send("194A4ttt" + range(), "194C7ttt" + event("0E00"));
    report(FASTEST, START);
    expectReports("47FF");
    for (int time = 0; time < 3; time++) {
      report("8D3B");
      expectReports("0D3B", "0E00");
    }
    tester.expectSilence(500);
  }

  @Test
  @Checks({97})
  void midnightIsToldAndThreeSecondsLaterTheNewDate() throws IOException {
    // S-9.7.4.5 §6.2: the published example
    JsonNode example = Published.read("broadcast-time.json").get("rollover_example");
    report(FASTEST, "B7A1", "AA03", "973B", START);
    expectReports("47FF", "37A1", "2A03", "173B");
    assertMidnight(
        Published.texts(example.get("expected").get(1).get("events")).stream()
            .map(text -> text.substring(18).replace(".", ""))
            .toList());
  }

  @Test
  @Checks({97})
  void midnightBackwardsIsToldAndThreeSecondsLaterTheDayBefore() {
    // S-9.7.4.5 §6.2
    report(FASTEST_BACK, "B7A1", "A101", "8001", START);
    expectReports("4801", "37A1", "2101", "0001");
    assertMidnight(List.of("37A0", "2C1F"));
  }

  private static void assertMidnight(List<String> yearAndDate) {
    long startedNs = tester.saidNs();
    expectReports(ROLLOVER);
    Heard year = tester.hear(heard -> tester.matches(heard, "195B4ddd" + event("3...")));
    Heard date = tester.hear(heard -> tester.matches(heard, "195B4ddd" + event("2...")));
    assertEquals(yearAndDate, List.of(low(year), low(date)));
    assertTrue(year.atNs() - startedNs >= SETTLE_NS, year::toString);
    report(STOP);
  }

  @Test
  @Checks({98})
  void reservedEventsChangeNothing() throws IOException {
    // S-9.7.4.5 §4.12
    report("880A", QUERY);
    expectReports("080A");
    List<String> before = hearSync();
    JsonNode reserved = Published.read("broadcast-time.json").get("reserved_ignore_on_receipt");
    report(Published.texts(reserved.get("low16")).toArray(String[]::new));
    tester.sendInVain();
    report(QUERY);
    assertEquals(before, hearSync());
  }

  @Test
  @Checks({48})
  void clockObeysTheStopThatItsOwnNodeReports() {
    // S-9.7.3 §3.6
    report("C004", "8B00", START, QUERY);
    expectReports("4004", "0B00");
    assertEquals(START, hearSync().get(0));
    String answer = dut.tell("stop clock");
    assertFalse(answer.startsWith("refused"), answer);
    expectReports(STOP);
    report(QUERY);
    assertEquals(STOP, hearSync().get(0));
  }

  /** The next reports of the clock; what it identifies meanwhile is passed over. */
  private static void expectReports(String... lows) {
    for (String low : lows) {
      assertEquals(low, low(tester.hear(heard -> isOfClock(heard, "195B4ddd"))));
    }
  }

  /** The next sync sequence; what is reported meanwhile is passed over. */
  private static List<String> hearSync() {
    return hearIdentified(SYNC_FRAMES);
  }

  private static List<String> hearIdentified(int count) {
    return Stream.generate(() -> tester.hear(heard -> isOfClock(heard, "19544ddd")))
        .limit(count)
        .map(ClockBench::low)
        .toList();
  }

  private static boolean isOfClock(Heard heard, String header) {
    return tester.matches(heard, header + event("...."));
  }
}
