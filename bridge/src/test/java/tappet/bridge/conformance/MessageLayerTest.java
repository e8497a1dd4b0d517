package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The message network (S-9.7.3). */
class MessageLayerTest extends Bench {

  private static final String ELSEWHERE = "0A5700000F09";
  private static final String VERIFIED = "19170ddd" + Dut.NODE;

  /** Protocol flags without a meaning (S-9.7.3 §3.3.7): reserved in the first three bytes. */
  private static final int RESERVED_FLAGS = 0x00018F;

  @Test
  @Checks({21})
  void isFullInWhatItTellsOfItselfEverywhere() {
    // S-9.7.3 §3.3.1, §3.3.3: 0x170, and 0x100 in StartTest; flag 0x800000 is for the simple set
    tester.send("19488ttt 0ddd");
    tester.expect(VERIFIED);
    assertEquals(0, protocols() & 0x800000);
  }

  @Test
  @Checks({22, 23})
  void tellsItsNodeIdToWhoeverAddressesItWhateverIdTheyBelieve() {
    // S-9.7.3 §3.4.2, TN-9.7.3 §2.3.3.2
    tester.send("19488ttt 0ddd");
    tester.expect(VERIFIED);
    tester.send("19488ttt 0ddd" + Dut.NODE);
    tester.expect(VERIFIED);
    tester.send("19488ttt 0ddd" + ELSEWHERE);
    tester.expect(VERIFIED);
    // The two bits before the framing are reserved and not checked (S-9.7.3 §7.3.1.3).
    tester.send("19488ttt Cddd");
    tester.expect(VERIFIED);
  }

  @Test
  @Checks({24})
  void answersAGlobalVerifyForAllAndForItselfOnly() {
    // S-9.7.3 §3.4.2
    tester.send("19490ttt");
    tester.expect(VERIFIED);
    tester.send("19490ttt" + Dut.NODE);
    tester.expect(VERIFIED);
    tester.sendInVain("19490ttt" + ELSEWHERE);
  }

  @Test
  @Checks({25})
  void asksOnlyForNodeIdsOfOthers() {
    // S-9.7.3 §3.6: a question for one node is its own only if that is itself. The board is asked
    // after it has been silent for 3 s.
    Heard question = tester.hear(heard -> tester.matches(heard, "19490ddd *"));
    assertEquals(Tester.NODE, question.data());
    tester.sendInVain();
  }

  @Test
  @Checks({26})
  void isSilentOnMessagesForOthers() {
    // S-9.7.3 §3.3, §3.4
    tester.sendInVain("19488ttt 0FFE", "19828ttt 0FFE", "19968ttt 0FFE", "19DE8ttt 0FFE");
    tester.sendInVain("194E8ttt 0FFE", "19CC8ttt 0FFE 0102", "1AFFEttt 2080", "1FFFEttt 00");
    // An addressed message without an address is for nobody.
    tester.sendInVain("19488ttt", "19828ttt 00", "194E8ttt");
  }

  @Test
  @Checks({27})
  void tellsItsProtocolsWithoutReservedFlags() {
    // S-9.7.3 §3.3.7, §3.4.3: events, datagrams, memory configuration, ACDI, SNIP, CDI
    assertEquals(0, protocols() & RESERVED_FLAGS);
    assertEquals(0x040000, protocols() & 0x040000);
  }

  private static int protocols() {
    tester.send("19828ttt 0ddd");
    Heard reply = tester.expect("19668ddd 0ttt *");
    String flags = (reply.content() + "000000").substring(0, 6);
    return Integer.parseInt(flags, 16);
  }

  @ParameterizedTest
  @ValueSource(strings = {"4E8", "CC8", "5EB", "1E9", "DA8", "008", "FEF"})
  @Checks({28, 29})
  void rejectsAddressedMessagesOfKindsItTakesNoPartIn(String mti) {
    // S-9.7.3 §3.5.1; streams and trains among them
    tester.send("19" + mti + "ttt 0ddd 0102");
    tester.expect("19068ddd 0ttt 1... 0" + mti);
  }

  @Test
  @Checks({29})
  void rejectsStreamData() {
    // S-9.7.3 §3.5.1
    tester.send("1Fdddttt 000102");
    tester.expect("19068ddd 0ttt 1... 1F88");
  }

  @Test
  @Checks({30})
  void dropsGlobalMessagesOfUnknownKinds() {
    // S-9.7.3 §3.5.2
    tester.sendInVain("19000ttt", "19001ttt", "19FE0ttt 01", "193F0ttt 0102030405060708");
    tester.sendInVain("19172ttt" + ELSEWHERE, "19F34ttt" + BirchHollow.MAIN_OCCUPIED);
  }

  @ParameterizedTest
  @ValueSource(strings = {"19068ttt 0ddd", "190A8ttt 0ddd"})
  @Checks({31})
  void takesRejectionsHoweverShort(String header) {
    // S-9.7.3 §3.3.4, §3.3.5, §3.5.3
    tester.sendInVain(header + "1000 0828", header + "2000", header);
    tester.sendInVain(header + "1043 0DE8 01");
  }

  @Test
  @Checks({32})
  void survivesLongMessagesThatAreCutShort() {
    // S-9.7.3 §3.5.5, §7.3.1.3: one that begins is rejected once, what never began is passed over
    tester.sendInVain("194E8ttt 2ddd 0102", "194E8ttt 3ddd 010203040506");
    tester.send("194E8ttt 1ddd 010203040506", "194E8ttt 1ddd 010203040506");
    tester.expect("19068ddd 0ttt 1... 04E8");
    tester.expect("19068ddd 0ttt 1... 04E8");
    tester.sendInVain();
    // Replies nobody asked for, in the same disorder.
    tester.sendInVain(
        "19A08ttt 2ddd 00", "19A08ttt 1ddd 044142004300", "19A08ttt 1ddd 044142004300");
    tester.sendInVain("19A08ttt 3ddd 414243444546", "19A08ttt 2ddd 0000");
    tester.send("194E8ttt 1ddd 010203040506", "194E8ttt 2ddd");
    tester.expect("19068ddd 0ttt 1... 04E8");
    tester.sendInVain();
  }

  @Test
  @Checks({33})
  void keepsLongMessagesOfTwoSourcesApart() {
    // S-9.7.3 §7.3.7: mixed, and with a message of higher priority inside
    tester.send(
        "19CC8ttt 1ddd 010203040506",
        "19CC8uuu 1ddd 010203040506",
        "19488ttt 0ddd",
        "19CC8uuu 3ddd 010203040506",
        "19CC8ttt 2ddd 01",
        "19CC8uuu 2ddd 01");
    tester.expectAll("19068ddd 0ttt 1... 0CC8", "19068ddd 0uuu 1... 0CC8", VERIFIED);
    tester.sendInVain();
  }

  @Test
  @Checks({35})
  void understandsProtocolRepliesOfAnyLength() {
    // S-9.7.3 §3.3.7, §7.3.4: it has asked nobody, so nothing follows
    tester.sendInVain("19668ttt 0ddd 80", "19668ttt 0ddd 541800", "19668ttt 0ddd 541800000000");
    tester.sendInVain(
        "19668ttt 1ddd 541800000000",
        "19668ttt 3ddd 000000000000",
        "19668ttt 3ddd 000000000000",
        "19668ttt 2ddd 00");
    tester.sendInVain("19668ttt 0ddd");
  }

  @Test
  @Checks({36})
  void passesOverReservedFrameFormats() {
    // S-9.7.3 §7.3.1.2
    tester.sendInVain("18dddttt 0102", "18000ttt", "1Edddttt 0102030405060708", "1E490ttt");
  }

  @Test
  @Checks({22, 24})
  void oneNodeIdAnswersManyQuestions() {
    // S-9.7.3 §3.4.2: several requests may have one answer; here there are 500 within a moment
    tester.send(IntStream.range(0, 500).mapToObj(i -> "19490ttt").toArray(String[]::new));
    List<Heard> answers = tester.hearUntil(VERIFIED);
    assertEquals(1, answers.size());
    tester.settle();
    assertTrue(tester.faults().isEmpty(), tester.faults()::toString);
  }
}
