package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The frame layer of a device that has its alias (S-9.7.2.1). */
class FrameLayerTest extends Bench {

  private static final String ELSEWHERE = "0A5700000F09";

  @ParameterizedTest
  @ValueSource(strings = {"17123ddd", "16456ddd", "15789ddd", "14ABCddd", "13001ddd", "07123ddd"})
  @Checks({5, 16})
  void keepsItsAliasAgainstACheckId(String checkId) {
    // S-9.7.2.1 §6.2.5; header bit 28 is ignored, §4
    String alias = tester.dutAlias();
    tester.send(checkId);
    tester.expect("10700" + alias);
    tester.send("19488ttt 0ddd");
    tester.expect("19170" + alias + Dut.NODE);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "10700ddd",
        "10701ddd" + ELSEWHERE,
        "10702ddd",
        "10703ddd" + ELSEWHERE,
        "10710ddd" + ELSEWHERE,
        "10704ddd",
        "19490ddd",
        "19170ddd" + ELSEWHERE,
        "195B4ddd" + BirchHollow.MAIN_CLEAR,
        "1A123ddd 20",
        "09490ddd"
      })
  @Checks({6, 16})
  void givesItsAliasUpWhenAnotherUsesItAndReservesANewOne(String frame) {
    // S-9.7.2.1 §6.2.5
    String old = tester.dutAlias();
    tester.send(frame);
    tester.expect("10703" + old + Dut.NODE);
    List<Heard> back = tester.hearUntil("10701... " + Dut.NODE);
    assertEquals(
        List.of("170A5", "16700", "15000", "14001", "10700", "10701"),
        back.stream().map(heard -> heard.header().substring(0, 5)).toList());
    assertNotEquals(old, tester.dutAlias());
    tester.settle();
    assertTrue(back.stream().noneMatch(heard -> heard.source().equals(old)), back::toString);
  }

  @Test
  @Checks({8})
  void answersAliasEnquiriesForAllAndForItself() {
    // S-9.7.2.1 §6.2.3
    tester.send("10702ttt");
    tester.expect("10701ddd" + Dut.NODE);
    tester.send("10702ttt" + Dut.NODE);
    tester.expect("10701ddd" + Dut.NODE);
    tester.sendInVain("10702ttt" + ELSEWHERE);
    tester.sendInVain("10702ttt 0A57000000");
    tester.sendInVain("10702ttt" + Dut.NODE + "00");
  }

  @Test
  @Checks({10})
  void looksItsBoardUpAgainAfterEveryAliasWasAskedFor() {
    // S-9.7.2.1 §6.2.3: stored pairs are void, so frames of that alias are no sign of the board
    tester.send("10702ttt");
    tester.expect("10701ddd" + Dut.NODE);
    boolean asked = false;
    for (int exchange = 0; !asked; exchange++) {
      assertTrue(exchange < 100_000, "it took the board's old alias for the board");
      tester.send("19488ttt 0ddd");
      asked = hearsQuestionBeforeAnswer();
    }
  }

  private static boolean hearsQuestionBeforeAnswer() {
    boolean asked = false;
    Heard heard;
    do {
      heard = tester.hear(any -> true);
      asked |= tester.matches(heard, "19490ddd" + Tester.NODE);
    } while (!tester.matches(heard, "19170ddd *"));
    return asked;
  }

  @Test
  @Checks({13})
  void passesOverReservedControlFrames() {
    // S-9.7.2.1 §6.1
    tester.sendInVain("10704ttt", "10000ttt", "10001ttt 00", "107FFttt" + Dut.NODE, "10FFFttt");
  }

  @Test
  @Checks({13, 18})
  void passesOverErrorReports() {
    // S-9.7.2.1 §6.2.7, TN-9.7.2.1 §2.6.2.7
    tester.sendInVain("10710ttt" + Tester.NODE, "10711ttt" + Tester.NODE);
    tester.sendInVain("10712ttt" + Tester.NODE, "10713ttt" + Tester.NODE);
  }

  @Test
  @Checks({14})
  void passesOverStandardAndRemoteFramesAndWhatIsNoFrameAtAll() {
    // S-9.7.2.1 §4; the text forms of those frames are common practice, no source
    tester.sendText(tester.inFull(":S7A4N0102;:X10702tttR;:X19490tttR0;\r\n:;:X;X19490tttN;"));
    tester.sendText(tester.inFull(":X1949ZtttN;:X19490tttN1;:X19490tttN112233445566778899;"));
    tester.sendInVain();
  }

  @Test
  @Checks({5, 8, 19, 22, 27})
  void keepsAnsweringWhileTheBusIsFullOfFramesForOthers() throws Exception {
    // TN-9.7.2.1 §4: a full bus carries about 900 frames a second; here 2,000
    var load = Executors.newSingleThreadScheduledExecutor();
    try {
      var frames = load.scheduleAtFixedRate(FrameLayerTest::load, 0, 5, TimeUnit.MILLISECONDS);
      for (int round = 0; round < 100; round++) {
        tester.send("17123ddd");
        tester.expect("10700ddd");
        tester.send("10702ttt" + Dut.NODE);
        tester.expect("10701ddd" + Dut.NODE);
        tester.send("19488ttt 0ddd");
        tester.expect("19170ddd" + Dut.NODE);
        tester.send("19828ttt 0ddd");
        tester.expect("19668ddd 0ttt *");
      }
      assertTrue(!frames.isDone(), "the load ended");
    } finally {
      load.shutdownNow();
      assertTrue(load.awaitTermination(10, TimeUnit.SECONDS));
    }
  }

  private static void load() {
    List<String> frames = new ArrayList<>();
    for (int frame = 0; frame < 10; frame++) {
      frames.add(":X1AFFF123N0102030405060708;");
    }
    tester.sendText(String.join("", frames));
  }

  @Test
  @Checks({11})
  void saysNothingToAnAliasThatWasGivenUp() {
    // S-9.7.2.1 §6.2.4: the answer to uuu would be said before the one to ttt
    tester.send("19828uuu 0ddd");
    tester.expect("19668ddd 0uuu *");
    String gone = tester.inFull("uuu");
    tester.send("10703uuu" + Tester.OTHER_NODE);
    tester.settle();
    tester.send("19970ttt", "19490ttt");
    tester.settle();
    assertTrue(tester.heardSince(gone).isEmpty(), tester.heardSince(gone)::toString);
    tester.takeAliases();
    tester.settle();
  }
}
