package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Datagrams in both directions (S-9.7.3.2), as memory configuration speaks them. */
class DatagramTest extends Bench {

  private static final String READ_16 = "20410000000010";
  private static final String OPTIONS = "2080";

  /** S-9.7.3 §3.7. */
  private static final long TIMEOUT_MIN_NS = TimeUnit.SECONDS.toNanos(3);

  private static final int TOO_MANY = 100;

  @Test
  @Checks({55})
  void datagramHasOneAnswer() {
    // S-9.7.3.2 §6
    assertEquals("2082", tool().ask(OPTIONS).substring(0, 4));
    tester.sendInVain();
    tool().send("20A8");
    tool().expectTaken();
    tester.sendInVain();
    tool().send("20C0");
    tool().expectRefused("1041");
    tester.sendInVain();
  }

  static Stream<List<String>> publishedDatagrams() throws IOException {
    return Published.each(Published.read("datagrams.json").get("content"))
        .map(vector -> Published.texts(vector.get("frames")));
  }

  @ParameterizedTest
  @MethodSource("publishedDatagrams")
  @Checks({56, 61})
  void datagramOfAnyLengthAndCutHasOneAnswer(List<String> frames) {
    // S-9.7.3.2 §7.1, §7.3.1, §4.1: of 0 to 72 bytes. None makes sense, which is answered, once.
    tester.send(frames.stream().map(DatagramTest::toDut).toArray(String[]::new));
    tester.expect("19A48ddd 0ttt 10..");
    tester.sendInVain();
  }

  /** The same frame from the tester to the device. */
  private static String toDut(String text) {
    String data = text.substring(text.indexOf('N') + 1, text.indexOf(';'));
    return text.substring(2, 4) + "dddttt" + data;
  }

  @Test
  @Checks({56})
  void datagramWithEmptyFramesIsTaken() {
    // TN-9.7.3.2 §2.7.1, §2.7.3.1
    tester.send("1Bdddttt", "1Cdddttt 20", "1Cdddttt 410000", "1Cdddttt 0000 10", "1Ddddttt");
    tool().expectReplyPending();
    assertEquals("205100000000", tool().hearDatagram().substring(0, 12));
    tool().acknowledge();
    tester.sendInVain();
  }

  @ParameterizedTest
  @ValueSource(strings = {"21", "01", "30", "E0", "F0"})
  @Checks({57})
  void unknownKindIsRefusedForGood(String contentId) {
    // TN-9.7.3.2 §2.4.3.1
    tool().send(contentId + "0102");
    tool().expectRefused("1042");
    tester.sendInVain();
  }

  @Test
  @Checks({58})
  void framesWithoutAFirstOneAreRefusedForNow() {
    // S-9.7.3.2 §7.3.2: one answer, however many frames there are
    tester.send("1Ddddttt 20");
    tool().expectRefused("20..");
    tester.sendInVain();
    tester.send("1Cdddttt 20", "1Cdddttt 80", "1Ddddttt 00");
    tool().expectRefused("20..");
    tester.sendInVain();
  }

  @Test
  @Checks({59})
  void datagramBrokenOffByAnotherIsRefusedForNowAndTheOtherTaken() {
    // S-9.7.3.2 §7.3.2
    tester.send("1Bdddttt 2041000000001000", "1Bdddttt 2041", "1Ddddttt 0000000010");
    tool().expectRefused("20..");
    tool().expectReplyPending();
    tool().hearDatagram();
    tool().acknowledge();
    tester.send("1Bdddttt 2041000000001000", "1Adddttt 20A8");
    tool().expectRefused("20..");
    tool().expectTaken();
    tester.sendInVain();
  }

  @Test
  @Checks({60})
  void datagramsOfTwoSendersAreKeptApart() {
    // S-9.7.3.2 §7.2, TN-9.7.3.2 §2.7.3.2
    tester.send(
        "1Bdddttt 2008000000",
        "1Bddduuu 2008",
        "1Cdddttt 00FD",
        "1Cddduuu 00000000FC",
        "1Ddddttt 0000",
        "1Dddduuu 0000");
    tool().expectReplyPending();
    assertEquals("201800000000FD1083", tool().hearDatagram());
    Tool other = new Tool(tester, "uuu");
    other.expectReplyPending();
    assertEquals("201800000000FC1083", other.hearDatagram());
    tool().acknowledge();
    other.acknowledge();
    tester.sendInVain();
  }

  @Test
  @Checks({61})
  void datagramThatIsTooLongDoesNoHarm() {
    // S-9.7.3.2 §6: it may be refused or not
    tool().send("20".repeat(73));
    tool().expectRefused("10..");
    tester.sendInVain();
    tool().send("20".repeat(200));
    tool().expectRefused("10..");
    tester.sendInVain();
    assertEquals("2082", tool().ask(OPTIONS).substring(0, 4));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "19A28ttt 0ddd",
        "19A28ttt 0ddd 00",
        "19A28ttt 0ddd 7F",
        "19A48ttt 0ddd",
        "19A48ttt 0ddd 10",
        "19A48ttt 0ddd 1000",
        "19A48ttt 0ddd 10424E6F",
        "19068ttt 0ddd 1043 1C48"
      })
  @Checks({62, 63})
  void answerOfAnyLengthEndsADatagram(String answer) {
    // S-9.7.3.2 §4.2, §4.3, §6.2: what is refused for good is not sent again, and the next may come
    tool().send(READ_16);
    tool().expectReplyPending();
    tool().hearDatagram();
    tester.sendInVain(answer);
    assertEquals("2082", tool().ask(OPTIONS).substring(0, 4));
    tester.sendInVain();
  }

  @Test
  @Checks({63})
  void datagramRefusedForNowIsSentAgainAsItWas() {
    // S-9.7.3.2 §6.2: allowed, and not for ever
    tool().send(READ_16);
    tool().expectReplyPending();
    String reply = tool().hearDatagram();
    tester.send("19A48ttt 0ddd 2020");
    assertEquals(reply, tool().hearDatagram());
    tester.send("19A48ttt 0ddd 1000");
    tester.expectSilence(500);
  }

  @Test
  @Checks({38, 64})
  void nextDatagramWaitsThreeSecondsForAnAnswer() {
    // S-9.7.3.2 §6.1, S-9.7.3 §3.7; what was not answered is not sent again
    tool().send(READ_16);
    long askedNs = tester.saidNs();
    tool().expectReplyPending();
    assertEquals("2051", tool().hearDatagram().substring(0, 4));
    tool().send(OPTIONS);
    tool().expectReplyPending();
    Heard next = tester.hear();
    assertTrue(tester.matches(next, "1[AB]tttddd 2082*"), next::toString);
    assertTrue(next.atNs() - askedNs >= TIMEOUT_MIN_NS, next::toString);
    tool().acknowledge();
    tester.sendInVain();
  }

  @Test
  @Checks({60, 64})
  void whoAsksWithoutListeningIsRefusedForNow() {
    // S-9.7.3.2 §6.1, TN-9.7.3.2 §2.7.3.1: replies wait for an answer, and there is an end to that
    tool().send(READ_16);
    tool().expectReplyPending();
    tool().hearDatagram();
    int waiting = 0;
    Heard answer = askAgain();
    for (; tester.matches(answer, "19A28ddd 0ttt 80"); answer = askAgain()) {
      waiting++;
      assertTrue(waiting < TOO_MANY, "it keeps any number of replies");
    }
    assertTrue(tester.matches(answer, "19A48ddd 0ttt 2020"), answer::toString);
    Tool other = new Tool(tester, "uuu");
    assertEquals("2082", other.ask(OPTIONS).substring(0, 4));
    for (int reply = 0; reply < waiting; reply++) {
      tool().acknowledge();
      assertEquals("2082", tool().hearDatagram().substring(0, 4));
    }
    tool().acknowledge();
    tester.sendInVain();
  }

  private static Heard askAgain() {
    tool().send(OPTIONS);
    return tester.hear();
  }
}
