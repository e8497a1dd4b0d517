package tappet.lcc.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.EventId;
import tappet.lcc.Seed;
import tappet.lcc.Validity;
import tappet.lcc.Vectors;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Report;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/** A generator and a follower of the default fast clock, on virtual time. */
class ClockTest {

  private static final long SECOND = 1_000_000_000L;
  private static final ClockId CLOCK = ClockId.DEFAULT_FAST;
  private static final JsonNode VECTORS = Vectors.read("broadcast-time.json");

  private record Said(long second, boolean report, int code) {

    @Override
    public String toString() {
      return "%d %s %04X".formatted(second, report ? "report" : "valid", code);
    }
  }

  private final List<Said> said = new ArrayList<>();
  private ClockGenerator generator;
  private Optional<ClockFollower> follower = Optional.empty();
  private long nowNs;

  /** Everybody hears what is said, also who says it (S-9.7.3 §3.6). */
  private final ClockVoice voice =
      new ClockVoice() {
        @Override
        public void report(EventId event) {
          say(true, event);
          generator.eventReported(event, nowNs);
          follower.ifPresent(clock -> clock.eventReported(event, nowNs));
        }

        @Override
        public void identify(EventId event) {
          say(false, event);
          follower.ifPresent(clock -> clock.producerIdentifiedValid(event, nowNs));
        }
      };

  private void say(boolean report, EventId event) {
    said.add(new Said(nowNs / SECOND, report, (int) event.value() & 0xFFFF));
  }

  private ClockTest clock(String time, double rate, boolean running) {
    var reading = new ClockReading(LocalDateTime.parse(time), new Rate((int) (4 * rate)), running);
    generator = new ClockGenerator(CLOCK, reading, voice);
    generator.start(nowNs);
    said.clear();
    return this;
  }

  private ClockTest hear(ClockEvent event) {
    generator.eventReported(CLOCK.event(event), nowNs);
    return this;
  }

  private ClockTest set(Setting setting) {
    return hear(new ClockEvent.Set(setting));
  }

  private ClockTest pass(double seconds) {
    long untilNs = nowNs + (long) (seconds * SECOND);
    while (generator.deadlineNs().orElse(Long.MAX_VALUE) <= untilNs) {
      nowNs = generator.deadlineNs().getAsLong();
      generator.advance(nowNs);
    }
    nowNs = untilNs;
    generator.advance(nowNs);
    return this;
  }

  private ClockTest expect(String... lines) {
    assertEquals(List.of(lines), said.stream().map(Said::toString).toList());
    said.clear();
    return this;
  }

  private ClockTest shows(String time) {
    assertEquals(LocalDateTime.parse(time), generator.now(nowNs).time());
    return this;
  }

  private List<Long> secondsOfTimeReports() {
    return said.stream()
        .filter(line -> line.report() && line.code() < 0x1800)
        .map(Said::second)
        .toList();
  }

  // S-9.7.4.5 §6.3, §6.4: the published sequence, then the next minute when it comes
  @Test
  void queryIsAnsweredWithTheSyncSequenceAndTheNextMinute() {
    JsonNode example = VECTORS.get("sync_sequence_example");
    clock("1953-10-03T08:10", 4, true).pass(1).hear(Order.QUERY).pass(0.75);
    List<String> expected =
        Vectors.rows(example.get("expected_in_order"))
            .map(text -> text.asText().substring(23, 27))
            .toList();
    assertEquals(expected, said.stream().map(line -> "%04X".formatted(line.code())).toList());
    assertTrue(said.stream().noneMatch(Said::report));
    said.clear();
    pass(13.25).expect("15 report 080B");
  }

  // S-9.7.4.5 §6.1: what it says when its node has announced itself
  @Test
  void startTellsAll() {
    clock("1953-10-03T08:10", 4, false);
    generator.start(nowNs);
    expect("0 valid F001", "0 valid 4010", "0 valid 37A1", "0 valid 2A03", "0 valid 080A");
    assertEquals(EventId.of("01.01.00.00.01.00.FF.FF"), generator.range().encode());
    assertEquals(OptionalLong.empty(), generator.deadlineNs());
  }

  // TN-9.7.4.5 §2.6.4: several queries, one answer
  @Test
  void queriesThatComeTogetherShareOneAnswer() {
    clock("1953-10-03T08:10", 4, false).hear(Order.QUERY).hear(Order.QUERY).pass(1);
    assertEquals(5, said.size());
  }

  // S-9.7.4.5 §6.5: the effective value at once; the sequence 3 s after the last
  @Test
  void settingsTakeEffectAtOnceAndAreFollowedByOneSequence() {
    clock("1953-10-03T08:10", 4, false).set(new Time(17, 30)).pass(1).set(new Year(1960)).pass(1);
    set(new Date(2, 30)).expect("0 report 111E", "1 report 37A8", "2 report 221D");
    pass(2.9).expect().pass(0.1);
    expect("5 valid F001", "5 valid 4010", "5 valid 37A8", "5 valid 221D", "5 valid 111E");
    shows("1960-02-29T17:30").pass(1000).expect();
    set(new Year(1961)).shows("1961-02-28T17:30");
  }

  // S-9.7.4.5 §6.4, §6.5: a question in between does not take the place of the sequence
  @Test
  void queryBetweenASettingAndItsSequenceIsAnsweredAsWell() {
    clock("1953-10-03T08:10", 4, false).set(new Year(1960)).pass(1).hear(Order.QUERY).pass(9);
    assertEquals(List.of(0L, 1L, 3L), said.stream().map(Said::second).distinct().toList());
    assertEquals(11, said.size());
  }

  // S-9.7.4.5 §5, §6.5
  @Test
  void stoppedClockStandsUntilItIsStarted() {
    clock("1953-10-03T08:10", 4, true).pass(30).hear(Order.STOP).shows("1953-10-03T08:12");
    said.clear();
    pass(3);
    assertEquals("33 valid F001", said.get(0).toString());
    pass(3600).shows("1953-10-03T08:12");
    assertEquals(5, said.size());
    said.clear();
    hear(Order.START).pass(3);
    assertEquals("3636 valid F002", said.get(0).toString());
    shows("1953-10-03T08:12:12");
  }

  // S-9.7.4.5 §6.5; lcc.md §17 row 22 on zero
  @ParameterizedTest
  @CsvSource({
    "16, 4010",
    "2047, 4030",
    "48, 4030",
    "1, 4001",
    "-1, 4FFF",
    "-2048, 4FFC",
    "-4, 4FFC"
  })
  void rateThatIsNotSupportedBecomesTheNearest(int quarters, String reported) {
    var reading = new ClockReading(LocalDateTime.parse("1953-10-03T08:10"), new Rate(4), false);
    generator = new ClockGenerator(CLOCK, reading, new Rate(-4), new Rate(48), voice);
    generator.start(nowNs);
    said.clear();
    set(new Rate(quarters)).expect("0 report " + reported);
  }

  @Test
  void rateZeroStopsTheClockAndLeavesItsRate() {
    clock("1953-10-03T08:10", 4, true).set(new Rate(0)).expect("0 report 4010").pass(60);
    shows("1953-10-03T08:10");
    assertEquals("3 valid F001", said.get(0).toString());
  }

  // S-9.7.4.5 §6.2: at most once a real minute, at least once a real hour
  @ParameterizedTest
  @ValueSource(doubles = {0.25, 0.5, 1, 2.5, 4, 12, 60, 511.75, -0.25, -1, -4, -512})
  void reportsKeepTheirDistance(double rate) {
    clock("1953-10-03T08:10", rate, true).pass(2 * 3600);
    List<Long> seconds = secondsOfTimeReports();
    assertTrue(seconds.size() >= 2, "reports at " + seconds);
    for (int index = 2; index < seconds.size(); index++) {
      long apart = seconds.get(index) - seconds.get(index - 1);
      assertTrue(apart >= 60 && apart <= 3600, "reports at " + seconds);
    }
  }

  // S-9.7.4.5 §6.2; TN-9.7.4.5 §2.6.2
  @Test
  void minuteThatSomebodyWaitsForIsReportedWheneverItComes() {
    clock("1953-10-03T08:10", 60, true);
    generator.consumerIdentified(CLOCK.event(new Report(new Time(8, 25))));
    pass(60);
    List<Integer> codes = said.stream().map(Said::code).toList();
    assertEquals(List.of(0x080B, 0x0819), codes);
    said.clear();
    pass(24 * 60).pass(1);
    assertTrue(said.stream().anyMatch(line -> line.code() == 0x0819));
  }

  // S-9.7.4.5 §6.2: the published rollover
  @Test
  void midnightRollsTheDateOver() {
    clock("1953-10-03T23:58", 4, true).pass(29.5);
    said.clear();
    pass(3.5);
    assertEquals("30 report F003", said.get(0).toString());
    JsonNode after = VECTORS.get("rollover_example").get("expected").get(1);
    assertEquals(
        Vectors.rows(after.get("events")).map(event -> EventId.of(event.asText())).toList(),
        Stream.of(said.get(said.size() - 2), said.get(said.size() - 1))
            .map(line -> new EventId(CLOCK.upper().value() << 16 | line.code()))
            .toList());
    assertEquals(33, said.get(said.size() - 1).second());
    shows("1953-10-04T00:00:12");
  }

  // S-9.7.4.5 §6.2: in either direction; TN-9.7.4.5 §2.4.4
  @Test
  void midnightBackwardsRollsTheDateBack() {
    clock("1954-01-01T00:01", -4, true).pass(14.5);
    said.clear();
    pass(3.5);
    assertEquals("15 report F003", said.get(0).toString());
    assertEquals("18 report 37A1", said.get(said.size() - 2).toString());
    assertEquals("18 report 2C1F", said.get(said.size() - 1).toString());
    shows("1953-12-31T23:59:48");
  }

  // S-9.7.4.5 §4.3: years are twelve bits
  @Test
  void yearAfterTheLastIsTheFirst() {
    clock("4095-12-31T23:59", 60, true).pass(2).shows("0000-01-01T00:01");
    clock("0000-01-01T00:01", -60, true).pass(2).shows("4095-12-31T23:59");
  }

  // S-9.7.4.5 §4.12; item 98 of lcc.md §19
  @Test
  void reservedAndForeignEventsAreIgnored() {
    clock("1953-10-03T08:10", 4, false);
    for (JsonNode code : VECTORS.get("reserved_ignore_on_receipt").get("low16")) {
      long value = CLOCK.upper().value() << 16 | Integer.parseInt(code.asText(), 16);
      generator.eventReported(new EventId(value), nowNs);
    }
    generator.eventReported(EventId.of("01.01.00.00.01.01.F0.00"), nowNs);
    pass(10).expect().shows("1953-10-03T08:10");
  }

  // S-9.7.3.1 §6.3, S-9.7.4.5 §6.3
  @Test
  void generatorKnowsWhichOfItsEventsHold() {
    clock("1953-10-03T08:10", 4, true);
    assertEquals(Validity.VALID, state(new Report(new Time(8, 10))));
    assertEquals(Validity.INVALID, state(new Report(new Time(8, 11))));
    assertEquals(Validity.VALID, state(Order.START));
    assertEquals(Validity.INVALID, state(Order.STOP));
    assertEquals(Validity.VALID, state(new Report(new Rate(16))));
    assertEquals(Validity.UNKNOWN, state(Order.QUERY));
    assertEquals(Validity.UNKNOWN, state(new ClockEvent.Set(new Time(8, 10))));
  }

  private Validity state(ClockEvent event) {
    return generator.producerState(CLOCK.event(event), nowNs);
  }

  @Test
  void ownersSideSetsLikeTheBus() {
    clock("1953-10-03T08:10", 4, false);
    generator.set(new Time(9, 0), nowNs);
    generator.run(true, nowNs);
    pass(3);
    assertEquals("0 report 0900", said.get(0).toString());
    assertEquals("3 valid F002", said.get(1).toString());
    assertThrows(
        IllegalArgumentException.class,
        () -> new ClockGenerator(CLOCK, generator.now(nowNs), new Rate(-4), new Rate(0), voice));
  }

  /** A clock that stands need not tell its seconds: the sync sequence has none (S-9.7.4.5 §6.3). */
  private void assertFollowerAgrees(String when) {
    ClockReading leader = generator.now(nowNs);
    ClockReading own = follower.orElseThrow().now(nowNs).orElseThrow();
    assertEquals(leader.rate(), own.rate(), when);
    assertEquals(leader.running(), own.running(), when);
    long apart = Duration.between(leader.time(), own.time()).abs().toMillis();
    long oneRealSecond = Math.max(1, Math.abs(leader.rate().quarters()) * 250L);
    long allowed = leader.running() ? oneRealSecond : 60_000;
    assertTrue(apart <= allowed, when + ": " + leader + " and " + own);
    if (!leader.running()) {
      assertEquals(leader.time().withSecond(0).withNano(0), own.time().withSecond(0).withNano(0));
    }
  }

  // S-9.7.4.5 §6.2, §6.3; item 100 of lcc.md §19: an hour without reports
  @Test
  void followerIsRightAfterTheSequenceAndKeepsTimeItself() {
    clock("1953-10-03T08:10", 4, true).pass(7);
    follower = Optional.of(new ClockFollower(CLOCK, voice));
    assertEquals(Optional.empty(), follower.get().now(nowNs));
    follower.get().start(nowNs);
    expect("7 report F000").pass(0.5);
    assertEquals(8, follower.get().now(nowNs).orElseThrow().time().getHour());
    pass(10);
    assertFollowerAgrees("after the next minute");
    ClockFollower deaf = follower.get();
    follower = Optional.empty();
    pass(3600);
    follower = Optional.of(deaf);
    assertFollowerAgrees("after an hour");
    assertEquals(OptionalLong.empty(), deaf.deadlineNs());
  }

  // S-9.7.4.5 §6.5, §6.2: whatever is set, whenever
  @RepeatedTest(10)
  void followerStaysWithTheClockThroughAnything() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    clock("1953-10-03T23:50", 4, true);
    follower = Optional.of(new ClockFollower(CLOCK, voice));
    follower.get().start(nowNs);
    pass(60);
    for (int count = 0; count < 300; count++) {
      change(random);
      pass(70 + random.nextInt(60));
      runPastAMinute();
      assertFollowerAgrees("seed " + seed + ", change " + count);
    }
  }

  /** At slow rates the next minute takes its time, and only that is exact. */
  private void runPastAMinute() {
    ClockReading reading = generator.now(nowNs);
    if (reading.running()) {
      pass(1 + 61 * 4.0 / Math.max(1, Math.abs(reading.rate().quarters())));
    }
  }

  private void change(Random random) {
    ClockEvent event =
        switch (random.nextInt(6)) {
          case 0 -> new ClockEvent.Set(new Time(random.nextInt(24), random.nextInt(60)));
          case 1 -> new ClockEvent.Set(new Date(1 + random.nextInt(12), 1 + random.nextInt(31)));
          case 2 -> new ClockEvent.Set(new Year(random.nextInt(4096)));
          case 3 -> new ClockEvent.Set(new Rate(random.nextInt(200) - 100));
          case 4 -> Order.STOP;
          default -> Order.START;
        };
    voice.report(CLOCK.event(event));
  }

  // TN-9.7.4.5 §2.6.4: not while somebody else's question may still be answered
  @Test
  void followerAsksUntilItKnowsButNotWhenOthersJustHave() {
    generator =
        new ClockGenerator(
            ClockId.ALTERNATE_1,
            new ClockReading(LocalDateTime.parse("1953-10-03T08:10"), new Rate(4), false),
            voice);
    var alone = new ClockFollower(CLOCK, voice);
    alone.eventReported(CLOCK.event(Order.QUERY), nowNs);
    alone.start(nowNs);
    expect();
    nowNs = 10 * SECOND;
    alone.advance(nowNs);
    expect("10 report F000");
    assertEquals(OptionalLong.of(20 * SECOND), alone.deadlineNs());
    alone.eventReported(CLOCK.event(new Report(new Time(8, 0))), nowNs);
    assertEquals(OptionalLong.empty(), alone.deadlineNs());
    assertEquals(List.of(CLOCK.event(Order.QUERY)), alone.produced());
  }
}
