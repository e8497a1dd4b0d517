package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From the first frame on: the device joins a hub where the tester hears all it says. */
class StartTest {

  private static final long WAIT_MIN_NS = TimeUnit.MILLISECONDS.toNanos(200);

  /** What a tester that reads CID 4 late, on a busy machine, takes from the wait it measures. */
  private static final long LATE_NS = TimeUnit.MILLISECONDS.toNanos(20);

  private static final int LATE_MAX = 3;

  @TempDir Path folder;
  @TempDir Path secondFolder;
  private Stage stage;
  private Dut dut;
  private Tester tester;

  @BeforeEach
  void start() throws IOException {
    stage = new Stage();
    dut = Dut.joining(folder, Dut.NODE, stage.port());
    tester = stage.await();
  }

  @AfterEach
  void end() {
    Stage hub = stage;
    Dut device = dut;
    Tester peer = tester;
    try (hub;
        device;
        peer) {
      assertEquals(List.of(), peer.faults());
    }
  }

  @Test
  @Checks({1, 2, 15, 18, 20})
  void startsWithCheckIdsThenReservesAndMapsItsAliasAndIsInitialized() {
    // S-9.7.2.1 §5, §6.2.1, §6.2.2; S-9.7.3 §3.2, §3.4.1
    Heard last = expectCheckIds();
    Heard reserved = tester.expect("10700" + last.source());
    tester.expect("10701" + last.source() + Dut.NODE);
    tester.expect("19100" + last.source() + Dut.NODE);
    assertWaited(last, reserved);
  }

  /** The four parts of the node id, each with the same alias; answers the last. */
  private Heard expectCheckIds() {
    return expectCheckIdsFrom(tester.hear());
  }

  private Heard expectCheckIdsFrom(Heard first) {
    String alias = first.source();
    assertEquals("170A5" + alias, first.toString());
    tester.expect("16700" + alias);
    tester.expect("15000" + alias);
    return tester.expect("14001" + alias);
  }

  /** A wait whose beginning was heard late, on a busy machine, is measured once more. */
  private void assertWaited(Heard last, Heard reserved) {
    Heard from = last;
    Heard to = reserved;
    for (int late = 1; late < LATE_MAX && waitedNs(from, to) < WAIT_MIN_NS - LATE_NS; late++) {
      tester.send("10700" + to.source());
      tester.hearUntil("10703" + to.source() + Dut.NODE);
      from = expectCheckIds();
      to = tester.expect("10700" + from.source());
    }
    long waitedNs = waitedNs(from, to);
    assertTrue(waitedNs >= WAIT_MIN_NS - LATE_NS, () -> waitedNs + " ns from CID 4 to RID");
  }

  private static long waitedNs(Heard last, Heard reserved) {
    return reserved.atNs() - last.atNs();
  }

  @Test
  @Checks({2, 3})
  void anyFrameWithTheTentativeAliasMakesItStartAgain() {
    // S-9.7.2.1 §6.2.1, §6.2.5
    startsAgainOn("17123");
    startsAgainOn("10700");
    startsAgainOn("10701", "0A5700000F09");
    startsAgainOn("10702");
    startsAgainOn("10703", "0A5700000F09");
    startsAgainOn("19490");
    startsAgainOn("195B4", BirchHollow.MAIN_OCCUPIED);
    Heard last = expectCheckIdsFrom(startedAgain);
    assertWaited(last, tester.expect("10700" + last.source()));
  }

  private Heard startedAgain;

  private void startsAgainOn(String header, String... data) {
    String alias = startedAgain == null ? tester.hear().source() : startedAgain.source();
    // Sent as soon as CID 7 is read: it may find its way between two of the four.
    tester.send(header + alias + String.join("", data));
    Heard next = tester.hear(heard -> !heard.header().matches("1[4-6].*"));
    assertTrue(next.header().startsWith("170A5"), () -> header + " led to " + next);
    assertNotEquals(alias, next.source());
    startedAgain = next;
  }

  @Test
  @Checks({3})
  void aFrameWithTheTentativeAliasDuringTheWaitMakesItStartAgainAtOnce() {
    // S-9.7.2.1 §6.2.1; a machine too busy to object within 200 ms has more than one try
    Heard next = null;
    for (int late = 0; late < LATE_MAX && next == null; late++) {
      Heard last = expectCheckIds();
      tester.send("17123" + last.source());
      Heard answer = tester.hear();
      if (answer.header().startsWith("17")) {
        next = answer;
      } else {
        tester.hearUntil("19100... " + Dut.NODE);
        tester.send("10700" + last.source());
        tester.hearUntil("10703" + last.source() + Dut.NODE);
      }
    }
    assertNotEquals(null, next, "it answered a CID for its tentative alias");
  }

  @Test
  @Checks({9, 20})
  void whileItHasNoAliasItAnswersNothing() {
    // S-9.7.2.1 §5, §6.2.3; S-9.7.3 §3.2
    Heard last = expectCheckIds();
    tester.send("10702123", "10702123" + Dut.NODE, "19490123", "19970123", "19914123 " + stop());
    List<Heard> before = tester.hearUntil("10700" + last.source());
    assertEquals(1, before.size(), before::toString);
    List<Heard> after = tester.hearUntil("19100" + last.source() + Dut.NODE);
    // An enquiry that came late is answered by AMD; but no message comes before 0x100.
    assertTrue(after.stream().limit(after.size() - 1).noneMatch(Heard::isMessage), after::toString);
  }

  private static String stop() {
    return BirchHollow.W2E_STOP;
  }

  @Test
  @Checks({39, 40})
  void tellsAllItsEventsAfterTheStartAndReportsNoneBefore() {
    // S-9.7.3.1 §5, §6
    assertAllEventsAreTold();
    // Its alias taken away, it may come back without a word about events, or tell them again.
    tester.send("10700ddd");
    tester.hearUntil("10701... " + Dut.NODE);
  }

  private void assertAllEventsAreTold() {
    Set<String> consumed = new LinkedHashSet<>(BirchHollow.CONSUMED);
    Set<String> produced = new LinkedHashSet<>(BirchHollow.PRODUCED);
    Set<String> told = new LinkedHashSet<>();
    tester.hearUntil("19100... " + Dut.NODE);
    while (!consumed.isEmpty() || !produced.isEmpty()) {
      Heard heard = tester.hear();
      if (tester.matches(heard, "194C[457]ddd *")) {
        consumed.remove(heard.data());
      } else if (tester.matches(heard, "1954[457]ddd *")) {
        produced.remove(heard.data());
        told.add(heard.data());
      } else if (tester.matches(heard, "195B4ddd *")) {
        assertTrue(told.contains(heard.data()), () -> heard + " was not announced");
      }
    }
  }

  @Test
  @Checks({17})
  void twoWhoseNodeIdsAreCloseBeginWithDifferentAliases() throws IOException {
    // S-9.7.2.1 §6.3
    String alias = tester.hear().source();
    try (Dut neighbour = Dut.joining(secondFolder, "0A5700000002", stage.port());
        Tester second = stage.await()) {
      assertNotEquals(alias, second.hear().source());
      assertFalse(neighbour.process().lines().isEmpty());
    }
  }

  @Test
  @Checks({1, 39})
  void busThatJoinsLaterHearsTheWholeStart() throws IOException {
    // S-9.7.2.1 §6.2.1: who is on that bus could not object before; S-9.7.3.1 §6
    tester.hearUntil("19100... " + Dut.NODE);
    tester.close();
    tester = stage.await();
    tester.hearUntil("19100... " + Dut.NODE);
  }
}
