package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The daemon as a gateway between its text frames, where the tester is, and binary messages, which
 * are a draft (TCP-S (draft), Preliminary, 2021-04-30).
 */
class DraftGatewayTest {

  private static final String EVENT = "0A5700000F007777";
  private static final String INITIALIZED = "0100 " + DraftPeer.NODE + DraftPeer.NODE;

  @TempDir Path folder;
  private Dut dut;
  private Tester tester;
  private DraftPeer far;
  private String alias;

  @BeforeEach
  void start() throws IOException {
    dut = Dut.withDraftHub(folder);
    tester = Tester.join(dut.hub());
    tester.settle();
    far = join();
  }

  private DraftPeer join() throws IOException {
    DraftPeer peer = new DraftPeer(dut.draftHub());
    dut.process().awaitLine("TCP draft client 127.0.0.1:" + peer.port() + " is up");
    tester.settle();
    return peer;
  }

  @AfterEach
  void end() throws IOException {
    try (Dut device = dut;
        Tester peer = tester;
        DraftPeer farPeer = far) {
      assertEquals(List.of(), peer.faults());
      assertTrue(device.process().isAlive());
      assertNotEquals(0, farPeer.port());
    }
  }

  /** The far node starts, and has its alias told. */
  private void introduce() {
    far.say(INITIALIZED);
    alias = tester.hear(heard -> tester.matches(heard, "19100* " + DraftPeer.NODE)).source();
    tester.send("10701ttt" + Tester.NODE);
    tester.settle();
  }

  @Test
  @Checks({103})
  void farNodeGetsAnAliasOfItsOwnAndGivesItUpWhenItsLinkEnds() throws IOException {
    // TN-9.7.2.1 §2.5, §2.6.2.4; S-9.7.2.1 §6.2.1; how long it waits is for GatewayTest
    far.say(INITIALIZED);
    String first = tester.hear(heard -> tester.matches(heard, "17020...")).source();
    tester.expect("1610D" + first);
    tester.expect("15123" + first);
    tester.expect("14456" + first);
    tester.expect("10700" + first);
    tester.expect("10701" + first + DraftPeer.NODE);
    tester.expect("19100" + first + DraftPeer.NODE);
    far.close();
    tester.hear(heard -> tester.matches(heard, "10703" + first + DraftPeer.NODE));
    far = join();
    far.say(INITIALIZED);
    tester.hear(heard -> tester.matches(heard, "17020..."));
  }

  @Test
  @Checks({102})
  void eventReportsAndOtherGlobalMessagesCrossBothWaysAndNoControlFrameDoes() {
    // S-9.7.3 §3.6; S-9.7.3.1 §6.1, §7; TN-9.7.2.1 §2.4
    introduce();
    far.say("05B4 " + DraftPeer.NODE + EVENT);
    far.say("0F14 " + DraftPeer.NODE + EVENT + "010203040506070809");
    tester.hear(heard -> tester.matches(heard, "195B4" + alias + EVENT));
    tester.expect("19F16" + alias + EVENT);
    tester.expect("19F15" + alias + "0102030405060708");
    tester.expect("19F14" + alias + "09");
    tester.send("10702ttt", "17123ttt", "10710ttt" + Tester.NODE, "195B4ttt" + EVENT);
    tester.send(
        "19F16ttt" + EVENT, "19F14ttt AABB", "195B4ttt" + BirchHollow.EMERGENCY_STOP_CLEARED);
    far.expect("05B4 " + Tester.NODE + EVENT);
    far.expect("0F14 " + Tester.NODE + EVENT + "AABB");
    far.expect("05B4 " + Tester.NODE + BirchHollow.EMERGENCY_STOP_CLEARED);
  }

  @Test
  @Checks({102})
  void addressedMessagesArriveWholeHoweverLong() {
    // S-9.7.3 §3.6, §7.3.7; TN-9.7.3.2 §2.7.3.1
    introduce();
    far.say("0828 " + DraftPeer.NODE + Tester.NODE);
    tester.hear(heard -> tester.matches(heard, "19828" + alias + "0ttt"));
    tester.send("19668ttt 0" + alias + "440000");
    far.expect("0668 " + Tester.NODE + DraftPeer.NODE + "440000");
    tester.send("19A08ttt 1" + alias + "010203040506", "19A08ttt 2" + alias + "07");
    far.expect("0A08 " + Tester.NODE + DraftPeer.NODE + "01020304050607");
    far.say("1C48 " + DraftPeer.NODE + Tester.NODE + "20410000000040AABBCC");
    tester.expect("1Bttt" + alias + "20410000000040AA");
    tester.expect("1Dttt" + alias + "BBCC");
    tester.send("19A28ttt 0" + alias + "80");
    far.expect("0A28 " + Tester.NODE + DraftPeer.NODE + "80");
  }

  @Test
  @Checks({102})
  void daemonItselfAnswersOverTheLink() {
    // S-9.7.3 §3.4.2: a node like any other
    introduce();
    far.say("0488 " + DraftPeer.NODE + Dut.NODE);
    far.hearUntil(("0170" + Dut.NODE + Dut.NODE)::equals);
  }

  @Test
  @Checks({104})
  void messageThatMustNotBeForwardedIsNot() {
    // S-9.7.3 §3.1.1
    introduce();
    far.say("25B4 " + DraftPeer.NODE + EVENT);
    far.say("2490 " + DraftPeer.NODE);
    far.say("05B4 " + DraftPeer.NODE + EVENT);
    tester.expect("195B4" + alias + EVENT);
  }

  @Test
  void transfersAreReadHoweverTheyAreCutAndAHalfOneIsNone() throws IOException {
    introduce();
    String report = DraftPeer.transfer("05B4 " + DraftPeer.NODE + EVENT);
    for (int from = 0; from < report.length(); from += 2) {
      far.sendHex(report.substring(from, from + 2));
    }
    far.sendHex(report + report + report.substring(0, 20));
    for (int heard = 0; heard < 3; heard++) {
      tester.expect("195B4" + alias + EVENT);
    }
    far.close();
    tester.expect("10703" + alias + DraftPeer.NODE);
    far = join();
  }

  @Test
  void peerThatSpeaksSomethingElseIsDroppedAndNobodyElse() throws IOException {
    introduce();
    try (DraftPeer stranger = join()) {
      stranger.send(":X19490123N;".getBytes(StandardCharsets.US_ASCII));
      stranger.expectEnd();
      dut.process()
          .awaitLine("TCP draft client \\S+ was dropped: it does not speak the binary form");
    }
    far.say("05B4 " + DraftPeer.NODE + EVENT);
    tester.hear(heard -> tester.matches(heard, "195B4" + alias + EVENT));
  }
}
