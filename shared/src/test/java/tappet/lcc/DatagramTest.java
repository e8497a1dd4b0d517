package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The node under test is 02.01.0D.12.34.56 with alias 458 and takes datagrams that begin with 20;
 * the peers are 67E and 123.
 */
class DatagramTest {

  private static final JsonNode VECTORS = Vectors.read("datagrams.json").get("content");
  private static final String OK = ":X19A28458N067E00;";

  private final List<String> taken = new ArrayList<>();
  private final List<String> ended = new ArrayList<>();
  private DatagramAnswer answer = DatagramAnswer.taken();
  private final Dialogue dialogue =
      new Dialogue("02.01.0D.12.34.56", List.of(), List.of()).serve(new Service()).upAndReady();

  private final class Service implements DatagramService {

    @Override
    public int contentId() {
      return 0x20;
    }

    @Override
    public int protocols() {
      return 0;
    }

    @Override
    public DatagramAnswer receive(int source, Bytes content, long nowNs) {
      taken.add("%03X %s".formatted(source, content));
      return answer;
    }
  }

  private DatagramTest send(int alias, String hex) {
    assertTrue(offer(alias, hex));
    return this;
  }

  private boolean offer(int alias, String hex) {
    return dialogue.node.sendDatagram(
        alias,
        Bytes.ofHex(hex),
        outcome -> ended.add("%s %04X".formatted(outcome.end(), outcome.code())),
        dialogue.nowNs());
  }

  static Stream<JsonNode> vectors() {
    return Vectors.rows(VECTORS);
  }

  // S-9.7.3.2 §7.1, §7.3.1
  @ParameterizedTest
  @MethodSource("vectors")
  void publishedDatagramIsPutTogetherAndAnsweredOnce(JsonNode row) {
    String payload = row.get("payload").asText();
    for (String text : Vectors.texts(row)) {
      dialogue.send(text.replace("67E458", "45867E"));
    }
    if (payload.isEmpty()) {
      dialogue.expect(":X19A48458N067E1042;").expectSilence();
    } else {
      dialogue.expect(OK).expectSilence();
      assertEquals(List.of("67E " + payload), taken);
    }
  }

  // S-9.7.3.2 §7.1: the split with all frames full but the last
  @ParameterizedTest
  @MethodSource("vectors")
  void datagramIsSentAsPublished(JsonNode row) {
    if (!row.get("id").asText().equals("datagram-uneven")) {
      send(0x67E, row.get("payload").asText());
      dialogue.expect(Vectors.texts(row)).expectSilence();
    }
  }

  // TN-9.7.3.2 §2.7.1, §2.7.3.1: frames need not be full; first and last may be empty
  @Test
  void datagramMayBeCutAnywhere() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    for (int count = 0; count < 2000; count++) {
      Bytes content = Bytes.of(0x20).and(randomBytes(random, random.nextInt(72)));
      taken.clear();
      sendCut(content, random);
      assertEquals(List.of("67E " + content), taken, "seed " + seed);
      dialogue.expect(OK).expectSilence();
    }
  }

  private static Bytes randomBytes(Random random, int length) {
    byte[] content = new byte[length];
    random.nextBytes(content);
    return Bytes.copyOf(content);
  }

  private void sendCut(Bytes content, Random random) {
    int from = 0;
    DatagramPart part = DatagramPart.FIRST;
    while (part != DatagramPart.LAST) {
      int length = Math.min(random.nextInt(9), content.length() - from);
      peerSends(part, content.slice(from, length));
      from += length;
      part =
          content.length() - from <= 8 && random.nextBoolean()
              ? DatagramPart.LAST
              : DatagramPart.MIDDLE;
    }
    peerSends(part, content.from(from));
  }

  private void peerSends(DatagramPart part, Bytes bytes) {
    int header = Header.ofDatagram(part, 0x458, 0x67E);
    CanFrame frame = CanFrame.of(header, bytes.length(), bytes.number(0, bytes.length()));
    dialogue.node.receive(frame, dialogue.nowNs());
  }

  // TN-9.7.3.2 §2.4.3.1
  @Test
  void unknownContentIsRejectedForGood() {
    dialogue.send(":X1A45867EN21;").expect(":X19A48458N067E1042;").expectSilence();
    assertEquals(List.of(), taken);
  }

  // S-9.7.3.2 §6: the service decides; the reply follows and waits for its own answer
  @Test
  void serviceThatRejectsIsHeard() {
    answer = DatagramAnswer.rejected(ErrorCode.SUBCOMMAND_UNKNOWN);
    dialogue.send(":X1A45867EN20;").expect(":X19A48458N067E1041;").expectSilence();
    answer = DatagramAnswer.reply(Bytes.ofHex("2050"));
    dialogue.send(":X1A45867EN20;");
    dialogue.expect(":X19A28458N067E80;", ":X1A67E458N2050;").expectSilence();
  }

  // S-9.7.3.2 §7.3.2: any other sequence is refused for the time being, each datagram once
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "last alone | D20 | 2041",
        "middle alone | C20 | 2041",
        "middles, then last | C20 C20 D20 | 2041",
        "first, first, last | B20 B20 D01 | 2042 OK",
        "first, only | B20 A20 | 2042 OK",
        "first, middle, only | B20 C20 A20 | 2042 OK",
        "stray middle, then a whole one | C20 A20 | 2041 OK",
        "stray middle, first, last | C20 B20 D01 | 2041 OK",
        "last twice | B20 D01 D01 | OK 2041",
      })
  void brokenSequenceIsRefusedOnceAndTheNextDatagramWorks(
      String name, String frames, String answers) {
    for (String frame : frames.split(" ", -1)) {
      dialogue.send(":X1" + frame.charAt(0) + "45867EN" + frame.substring(1) + ";");
    }
    for (String answered : answers.split(" ", -1)) {
      dialogue.expect(answered.equals("OK") ? OK : ":X19A48458N067E" + answered + ";");
    }
    dialogue.expectSilence().send(":X1A45867EN20;").expect(OK).expectSilence();
  }

  // S-9.7.3.2 §7.2
  @Test
  void sendersThatMixTheirFramesAreBothUnderstood() {
    dialogue.send(":X1B45867EN2001;", ":X1B458123N2002;", ":X1C45867EN03;", ":X1D458123N04;");
    dialogue.expect(":X19A28458N012300;").expectSilence();
    dialogue.send(":X1D45867EN05;").expect(OK).expectSilence();
    assertEquals(List.of("123 200204", "67E 20010305"), taken);
  }

  // S-9.7.3.2 §6: over 72 bytes; one answer, and the next one works
  @Test
  void datagramThatIsTooLongIsRefusedOnce() {
    dialogue.send(":X1B45867EN2021222324252627;");
    for (int count = 0; count < 20; count++) {
      dialogue.send(":X1C45867EN0001020304050607;");
    }
    dialogue.send(":X1D45867EN00;").expect(":X19A48458N067E1080;").expectSilence();
    dialogue.send(":X1A45867EN20;").expect(OK).expectSilence();
  }

  // TN-9.7.3.2 §2.7.3.1: no buffer; a start of the sender or its reset frees it
  @Test
  void sendersBeyondTheRoomAreToldToComeAgain() {
    for (int alias = 1; alias <= DatagramReceiver.SENDERS_MAX; alias++) {
      dialogue.send(":X1B458%03XN20;".formatted(alias)).expectSilence();
    }
    dialogue.send(":X1B45867EN20;").expect(":X19A48458N067E2020;");
    dialogue.send(":X1C45867EN20;").expectSilence().send(":X10703001N02010D000001;");
    dialogue.send(":X1B45867EN20;").expectSilence().pass(3000);
    dialogue.send(":X1B458123N20;", ":X1D458123N20;").expect(":X19A28458N012300;");
  }

  // TN-9.7.3.2 §2.7.3.1; S-9.7.2.1 §6.2.4: half a datagram of a sender that starts anew is void
  @ParameterizedTest
  @ValueSource(strings = {":X1910067EN02010DABCDEF;", ":X1070367EN02010DABCDEF;"})
  void halfDatagramIsForgottenWhenItsSenderStartsAnew(String frame) {
    dialogue.send(":X1B45867EN20;", frame, ":X1D45867EN01;");
    dialogue.expect(":X19A48458N067E2041;").expectSilence();
  }

  // S-9.7.3.2 §6.1; S-9.7.3 §3.7: one outstanding per destination; 3 s
  @Test
  void secondDatagramWaitsForTheAnswerToTheFirst() {
    send(0x67E, "2001").send(0x67E, "2002").send(0x123, "2003");
    dialogue.expect(":X1A67E458N2001;", ":X1A123458N2003;").expectSilence();
    dialogue.send(":X19A2867EN045882;").expect(":X1A67E458N2002;").expectSilence();
    assertEquals(List.of("DELIVERED 0082"), ended);
    dialogue.pass(2999).expectSilence();
    assertEquals(1, ended.size());
    dialogue.pass(1).expectSilence();
    assertEquals(List.of("DELIVERED 0082", "UNANSWERED 0000", "UNANSWERED 0000"), ended);
    assertTrue(dialogue.node.deadlineNs().isEmpty());
  }

  // S-9.7.3.2 §6.2: resent after a temporary rejection, the same bytes, and not for ever
  @Test
  void refusedForTheTimeBeingIsSentAgainAFewTimes() {
    send(0x67E, "2001");
    for (int tries = 0; tries < DatagramSender.TRIES_MAX; tries++) {
      dialogue.expect(":X1A67E458N2001;").send(":X19A4867EN04582020;").expectSilence().pass(2000);
    }
    dialogue.expectSilence();
    assertEquals(List.of("REFUSED 2020"), ended);
  }

  // S-9.7.3.2 §6.2, §4.2, §4.3; S-9.7.3 §3.3.4, §3.3.5: shortened answers count
  @ParameterizedTest
  @CsvSource({
    ":X19A4867EN04581000;, REFUSED 1000",
    ":X19A4867EN0458;, REFUSED 0000",
    ":X19A4867EN045810;, REFUSED 1000",
    ":X19A2867EN0458;, DELIVERED 0000",
    ":X1906867EN045810431C48;, REFUSED 1043",
    ":X1906867EN045810430C48;, REFUSED 1043",
    ":X1906867EN0458;, REFUSED 0000",
    ":X190A867EN0458;, BROKEN_OFF 0000",
    ":X190A867EN045820401C48;, BROKEN_OFF 0000",
    ":X1070367EN02010DABCDEF;, BROKEN_OFF 0000",
    ":X1910067EN02010DABCDEF;, BROKEN_OFF 0000",
    ":X10700458N;, BROKEN_OFF 0000",
  })
  void answerEndsTheSending(String frame, String end) {
    send(0x67E, "2001");
    dialogue.expect(":X1A67E458N2001;").send(frame);
    assertEquals(List.of(end), ended);
    dialogue.takeSaid();
    dialogue.pass(5000);
    assertFalse(dialogue.takeSaid().contains(":X1A67E458N2001;"));
  }

  // S-9.7.2.1 §6.2.2: an alias that now is another node's; the answer to an enquiry changes nothing
  @Test
  void definitionBreaksOffOnlyIfTheAliasHasChangedHands() {
    dialogue.send(":X1070167EN02010DABCDEF;");
    send(0x67E, "2001");
    dialogue.send(":X1070167EN02010DABCDEF;");
    assertEquals(List.of(), ended);
    dialogue.send(":X1070167EN02010D000001;");
    assertEquals(List.of("BROKEN_OFF 0000"), ended);
  }

  // S-9.7.3.2 §6: who never takes the replies is told to come again, and holds nobody up
  @Test
  void peerThatDoesNotTakeItsRepliesIsHeldBack() {
    answer = DatagramAnswer.reply(Bytes.ofHex("2050"));
    for (int count = 0; count < 100; count++) {
      dialogue.send(":X1A45867EN20;");
    }
    assertEquals(DatagramSender.WAITING_MAX, taken.size());
    List<String> said = dialogue.takeSaid();
    assertEquals(":X19A48458N067E2020;", said.get(said.size() - 1));
    dialogue.send(":X1A458123N20;").expect(":X19A28458N012380;", ":X1A123458N2050;");
  }

  // S-9.7.3 §3.6: also a message addressed to itself
  @Test
  void nodeMaySendADatagramToItself() {
    send(0x458, "2001");
    dialogue.expect(":X1A458458N2001;", ":X19A28458N045800;").expectSilence();
    assertEquals(List.of("DELIVERED 0000"), ended);
    assertEquals(List.of("458 2001"), taken);
  }

  @Test
  void datagramThatCannotBeSentIsRefusedAtOnce() {
    assertThrows(IllegalArgumentException.class, () -> offer(0x67E, "20".repeat(73)));
    for (int count = 0; count < DatagramSender.WAITING_MAX; count++) {
      assertTrue(offer(0x67E, "20"));
    }
    assertFalse(offer(0x67E, "20"));
    dialogue.node.stop(dialogue.nowNs());
    assertFalse(offer(0x123, "20"));
    assertEquals(DatagramSender.WAITING_MAX, ended.size());
  }

  // TN-9.7.3 §2.3.5.1; lcc.md §5.4: answers to nothing are not answered
  @Test
  void unexpectedAnswersAreIgnored() {
    dialogue.send(":X19A2867EN045800;", ":X19A4867EN04582020;", ":X1906867EN0458104304E8;");
    dialogue.send(":X190A867EN0458;").pass(5000).expectSilence();
  }
}
