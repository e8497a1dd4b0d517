package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.Message.AliasMapDefinition;
import tappet.lcc.Message.AliasMapEnquiry;
import tappet.lcc.Message.AliasMapReset;
import tappet.lcc.Message.CheckId;
import tappet.lcc.Message.ConsumerIdentified;
import tappet.lcc.Message.ConsumerRangeIdentified;
import tappet.lcc.Message.DatagramReceivedOk;
import tappet.lcc.Message.DatagramRejected;
import tappet.lcc.Message.EventReport;
import tappet.lcc.Message.IdentifyConsumer;
import tappet.lcc.Message.IdentifyEventsAddressed;
import tappet.lcc.Message.IdentifyEventsGlobal;
import tappet.lcc.Message.IdentifyProducer;
import tappet.lcc.Message.InitializationComplete;
import tappet.lcc.Message.OptionalInteractionRejected;
import tappet.lcc.Message.ProducerIdentified;
import tappet.lcc.Message.ProducerRangeIdentified;
import tappet.lcc.Message.ProtocolSupportInquiry;
import tappet.lcc.Message.ProtocolSupportReply;
import tappet.lcc.Message.ReserveId;
import tappet.lcc.Message.SimpleNodeInformationRequest;
import tappet.lcc.Message.TerminateDueToError;
import tappet.lcc.Message.Unrecognised;
import tappet.lcc.Message.VerifiedNodeId;
import tappet.lcc.Message.VerifyNodeIdAddressed;
import tappet.lcc.Message.VerifyNodeIdGlobal;

class MessagesTest {

  private static final NodeId NODE_S = NodeId.of("02.01.0D.12.34.56");
  private static final NodeId NODE_D = NodeId.of("02.01.0D.AB.CD.EF");
  private static final EventId EVENT = EventId.of("02.01.0D.12.34.56.00.04");
  private static final int S = 0x458;
  private static final int D = 0x67E;

  /** What each vector of frames.json says; its text and source stand in that file. */
  private static final Map<String, Message> MEANINGS =
      Map.ofEntries(
          Map.entry("cid7", new CheckId(7, 0x020, S)),
          Map.entry("cid6", new CheckId(6, 0x10D, S)),
          Map.entry("cid5", new CheckId(5, 0x123, S)),
          Map.entry("cid4", new CheckId(4, 0x456, S)),
          Map.entry("rid", new ReserveId(S)),
          Map.entry("amd", new AliasMapDefinition(S, NODE_S)),
          Map.entry("ame-all", new AliasMapEnquiry(D, Optional.empty())),
          Map.entry("ame-one", new AliasMapEnquiry(D, Optional.of(NODE_S))),
          Map.entry("amr", new AliasMapReset(S, NODE_S)),
          Map.entry("tn-example-cid7", new CheckId(7, 0x123, 0xFED)),
          Map.entry("tn-example-cid6", new CheckId(6, 0x456, 0xFED)),
          Map.entry("tn-example-cid5", new CheckId(5, 0x789, 0xFED)),
          Map.entry("tn-example-cid4", new CheckId(4, 0xABC, 0xFED)),
          Map.entry("tn-example-rid", new ReserveId(0xFED)),
          Map.entry("init-complete-full", new InitializationComplete(S, NODE_S, false)),
          Map.entry("init-complete-simple", new InitializationComplete(S, NODE_S, true)),
          Map.entry("verify-global", new VerifyNodeIdGlobal(D, Optional.empty())),
          Map.entry("verify-global-id", new VerifyNodeIdGlobal(D, Optional.of(NODE_S))),
          Map.entry("verify-addressed", new VerifyNodeIdAddressed(D, S, Optional.empty())),
          Map.entry("verify-addressed-id", new VerifyNodeIdAddressed(D, S, Optional.of(NODE_S))),
          Map.entry(
              "verify-addressed-wrong-id", new VerifyNodeIdAddressed(D, S, Optional.of(NODE_D))),
          Map.entry("verified-full", new VerifiedNodeId(S, NODE_S, false)),
          Map.entry("verified-simple", new VerifiedNodeId(S, NODE_S, true)),
          Map.entry("oir", new OptionalInteractionRejected(S, D, 0x1043, 0x04E8)),
          Map.entry("oir-datagrams", new OptionalInteractionRejected(S, D, 0x1043, 0x1C48)),
          Map.entry("tde", new TerminateDueToError(S, D, 0x2040, 0x0A08)),
          Map.entry("psi", new ProtocolSupportInquiry(D, S)),
          Map.entry("psr", new ProtocolSupportReply(S, D, 0x545800)),
          Map.entry("pcer", new EventReport(S, EVENT)),
          Map.entry(
              "pcer-emergency-stop", new EventReport(S, EventId.of("01.00.00.00.00.00.FF.FD"))),
          Map.entry(
              "pcer-duplicate-node-id", new EventReport(S, EventId.of("01.01.00.00.00.00.02.01"))),
          Map.entry("identify-consumer", new IdentifyConsumer(D, EVENT)),
          Map.entry("consumer-identified-valid", new ConsumerIdentified(S, EVENT, Validity.VALID)),
          Map.entry(
              "consumer-identified-invalid", new ConsumerIdentified(S, EVENT, Validity.INVALID)),
          Map.entry(
              "consumer-identified-unknown", new ConsumerIdentified(S, EVENT, Validity.UNKNOWN)),
          Map.entry("identify-producer", new IdentifyProducer(D, EVENT)),
          Map.entry("producer-identified-valid", new ProducerIdentified(S, EVENT, Validity.VALID)),
          Map.entry(
              "producer-identified-invalid", new ProducerIdentified(S, EVENT, Validity.INVALID)),
          Map.entry(
              "producer-identified-unknown", new ProducerIdentified(S, EVENT, Validity.UNKNOWN)),
          Map.entry("consumer-range", new ConsumerRangeIdentified(S, EventRange.of(NODE_S))),
          Map.entry("producer-range", new ProducerRangeIdentified(S, EventRange.of(NODE_S))),
          Map.entry("snip-request", new SimpleNodeInformationRequest(D, S)),
          Map.entry("datagram-ok", new DatagramReceivedOk(D, S, 0x00)),
          Map.entry("datagram-ok-pending", new DatagramReceivedOk(D, S, 0x80)),
          Map.entry("datagram-ok-pending-4s", new DatagramReceivedOk(D, S, 0x82)),
          Map.entry("datagram-ok-pending-max", new DatagramReceivedOk(D, S, 0x8F)),
          Map.entry("datagram-rejected-type", new DatagramRejected(D, S, 0x1042)),
          Map.entry("datagram-rejected-buffer", new DatagramRejected(D, S, 0x2020)),
          Map.entry("datagram-rejected-no-start", new DatagramRejected(D, S, 0x2041)),
          Map.entry("datagram-rejected-restart", new DatagramRejected(D, S, 0x2042)),
          Map.entry("identify-events-global", new IdentifyEventsGlobal(D)),
          Map.entry("identify-events-addressed", new IdentifyEventsAddressed(D, S)));

  /** Frames that are understood, but that nobody would send in just this form. */
  private static final Map<String, Message> MEANINGS_ON_RECEIPT =
      Map.of(
          "datagram-ok-noflags", new DatagramReceivedOk(D, S, 0x00),
          "datagram-rejected-short", new DatagramRejected(D, S, 0x2000),
          "reserved-top-bit-zero", new EventReport(D, EventId.of("01.00.00.00.00.00.FF.FF")),
          "oir-short", new OptionalInteractionRejected(D, S, 0, 0),
          "tde-short", new TerminateDueToError(D, S, 0x1000, 0),
          "psr-short", new ProtocolSupportReply(D, S, 0x440000),
          "psr-six", new ProtocolSupportReply(D, S, 0x545800));

  private static final Set<String> UNRECOGNISED =
      Set.of(
          "eir0",
          "eir1",
          "eir2",
          "eir3",
          "reserved-control",
          "unknown-addressed",
          "unknown-global",
          "learn-event");

  static Stream<JsonNode> singleFrames() {
    Stream<JsonNode> answers = Vectors.rows(Vectors.read("datagrams.json").get("replies"));
    Stream<JsonNode> information = Vectors.rows(Vectors.read("simple-node-information.json"));
    return Stream.of(Vectors.rows(Vectors.read("frames.json")), answers, information)
        .flatMap(rows -> rows)
        .filter(row -> row.has("text"));
  }

  // S-9.7.2.1 §6.1, S-9.7.3 §3.3, S-9.7.3.1 §4: the source stands in each row
  @ParameterizedTest
  @MethodSource("singleFrames")
  void publishedFrameSaysWhatTheStandardSays(JsonNode row) {
    String id = row.get("id").asText();
    CanFrame frame = Vectors.frame(row.get("text").asText());
    Message meaning = UNRECOGNISED.contains(id) ? new Unrecognised(frame) : meaning(id);
    assertEquals(meaning, Messages.decode(frame), row.get("source").asText());
  }

  private static Message meaning(String id) {
    Message meaning = MEANINGS.getOrDefault(id, MEANINGS_ON_RECEIPT.get(id));
    assertTrue(meaning != null, "the table above lacks " + id);
    return meaning;
  }

  @ParameterizedTest
  @MethodSource("singleFrames")
  void messageIsSentAsThePublishedFrame(JsonNode row) {
    CanFrame frame = Vectors.frame(row.get("text").asText());
    Message message = MEANINGS.getOrDefault(row.get("id").asText(), new Unrecognised(frame));
    assertEquals(frame, message.encode(), row.get("source").asText());
  }

  @Test
  void everyKindOfMessageIsAmongTheVectors() {
    var kinds =
        Stream.concat(MEANINGS.values().stream(), MEANINGS_ON_RECEIPT.values().stream())
            .map(Message::getClass)
            .collect(Collectors.<Class<?>>toSet());
    kinds.add(Unrecognised.class);
    assertEquals(records(Message.class).collect(Collectors.toSet()), kinds);
  }

  private static Stream<Class<?>> records(Class<?> type) {
    return type.isRecord()
        ? Stream.of(type)
        : Arrays.stream(type.getPermittedSubclasses()).flatMap(MessagesTest::records);
  }

  // S-9.7.3.1 §4.1, §7; TN-9.7.3.1 §2.7: a consumer reacts to the event id in the first frame
  @Test
  void firstFrameOfReportWithPayloadIsAnEventReportAndItsOtherFramesAreNot() {
    for (JsonNode row : Vectors.read("event-report-with-payload.json")) {
      EventId event = EventId.of(row.get("event_id").asText());
      List<Message> messages = payloadFrames(row).map(Messages::decode).toList();
      assertEquals(new EventReport(S, event, true), messages.get(0));
      assertEquals(
          messages.size() - 1L,
          messages.stream().filter(message -> message instanceof Unrecognised).count());
    }
  }

  private static Stream<CanFrame> payloadFrames(JsonNode row) {
    Stream<JsonNode> texts =
        row.has("frames")
            ? Vectors.rows(row.get("frames"))
            : Stream.of("first_frame", "second_frame", "last_frame").map(row::get);
    return texts.map(JsonNode::asText).map(Vectors::frame);
  }

  // S-9.7.3 §3.1.1: where the MTI says so, there is an address or an event id
  @Test
  void mtiBitsTellWhatTheContentStartsWith() {
    for (JsonNode row : Vectors.read("mti-table.json").get("rows")) {
      int mti = Integer.parseInt(row.get("can").asText().substring(0, 3), 16);
      CanFrame frame = CanFrame.of(Header.ofMessage(mti, D), 8, 0x0458_0000_0000_0000L);
      String name = row.get("name").asText();
      assertEquals(row.get("addressed").asBoolean() ? S : 0, Header.destination(frame), name);
      assertEquals(row.get("event_present").asBoolean(), Header.carriesEvent(frame), name);
      assertNotEquals(new Unrecognised(frame), Messages.decode(frame), name);
    }
  }

  // S-9.7.3 §7.3.4: use the known part, ignore the rest
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X19170458N02010D123456FFFF;",
        ":X19100458N02010D12345600;",
        ":X1949067EN02010D123456FF;",
        ":X1997067EN01;",
        ":X1996867EN0458AABB;",
        ":X1982867EN1458AABBCCDDEEFF;",
        ":X1948867EN0458020103;",
        ":X1948867EN0458;",
      })
  void contentBeyondTheKnownIsIgnored(String text) {
    assertTrue(!(Messages.decode(Vectors.frame(text)) instanceof Unrecognised));
  }

  // S-9.7.3 §7.3.1.3: the reserved bits before the address are sent as zero and not checked
  @Test
  void reservedBitsBeforeAnAddressAreIgnored() {
    assertEquals(
        new ProtocolSupportInquiry(D, S), Messages.decode(Vectors.frame(":X1982867ENC458;")));
  }

  // S-9.7.2.1 §6.2.3: equal in length and content; S-9.7.2.1 §6.3: no alias is zero
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1070267EN02010D1234;",
        ":X1070267EN02010D12345600;",
        ":X10701458N02010D1234;",
        ":X10703458N;",
        ":X1949067EN02010D;",
        ":X19170458N02010D1234;",
        ":X195B4458N02010D12345600;",
        ":X195B4000N02010D1234560004;",
        ":X17020000N;",
        ":X19546458N02010D1234560004;",
        ":X194C6458N02010D1234560004;",
        ":X1982867EN04;",
        ":X1982867EN0000;",
        ":X1982867EN2458;",
        ":X1982867EN3458;",
        ":X1849067EN;",
        ":X1E49067EN;",
        ":X1A45867EN20;",
      })
  void whatIsIncompleteOrReservedIsKeptAsAnUnrecognisedFrame(String text) {
    CanFrame frame = Vectors.frame(text);
    assertEquals(new Unrecognised(frame), Messages.decode(frame));
  }

  // S-9.7.3 §3.3.7 and TN-9.7.3 §2.7.3.1.3.2: the flags known here all stand in the first frame
  @Test
  void longProtocolSupportReplyIsUnderstoodFromItsFirstFrame() {
    JsonNode row =
        Vectors.rows(Vectors.read("frames.json"))
            .filter(candidate -> candidate.get("id").asText().equals("psr-multi"))
            .findFirst()
            .orElseThrow();
    List<Message> messages =
        Vectors.rows(row.get("frames"))
            .map(text -> Messages.decode(Vectors.frame(text.asText())))
            .toList();
    assertEquals(new ProtocolSupportReply(S, D, 0x112233), messages.get(0));
    messages.subList(1, 4).forEach(message -> assertInstanceOf(Unrecognised.class, message));
  }

  @Test
  void noFrameIsTooStrangeAndWhatIsReadIsSentAlike() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    int[] mtis =
        Vectors.rows(Vectors.read("mti-table.json").get("rows"))
            .mapToInt(row -> Integer.parseInt(row.get("can").asText().substring(0, 3), 16))
            .toArray();
    for (int count = 0; count < 100_000; count++) {
      CanFrame frame = strangeFrame(random, mtis);
      Message message = Messages.decode(frame);
      assertEquals(message, Messages.decode(message.encode()), "seed " + seed);
      assertEquals(frame.sourceAlias(), message.source(), "seed " + seed);
      assertTrue(message.describe().contains("%03X".formatted(message.source())));
    }
  }

  private static CanFrame strangeFrame(Random random, int[] mtis) {
    int anyHeader = random.nextInt(CanFrame.HEADER_MAX + 1);
    int knownMti = Header.ofMessage(mtis[random.nextInt(mtis.length)], random.nextInt(0x1000));
    int length = random.nextInt(9);
    long value = length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
    return CanFrame.of(random.nextBoolean() ? anyHeader : knownMti, length, value);
  }

  @Test
  void messagesAreDescribedInPlainWords() {
    assertEquals(
        "event report 02.01.0D.12.34.56.00.04 from 458", new EventReport(S, EVENT).describe());
    assertEquals(
        "producer of 02.01.0D.12.34.56.00.04 identified, invalid, from 458",
        new ProducerIdentified(S, EVENT, Validity.INVALID).describe());
    assertEquals("alias 458 is 02.01.0D.12.34.56", new AliasMapDefinition(S, NODE_S).describe());
    assertEquals(
        "frame :X19ED067EN; from 67E", Messages.decode(Vectors.frame(":X19ED067EN;")).describe());
  }

  // S-9.7.2.1 §6.3
  @ParameterizedTest
  @ValueSource(ints = {0, -1, 0x1000})
  void aliasOutOfRangeCannotBeSent(int alias) {
    assertThrows(IllegalArgumentException.class, () -> new ReserveId(alias));
    assertThrows(IllegalArgumentException.class, () -> new ProtocolSupportInquiry(S, alias));
  }

  @Test
  void fieldsWiderThanOnTheWireCannotBeSent() {
    IntStream.of(0, 8)
        .forEach(
            sequence ->
                assertThrows(
                    IllegalArgumentException.class, () -> new CheckId(sequence, 0x123, S)));
    assertThrows(IllegalArgumentException.class, () -> new CheckId(7, 0x1000, S));
    assertThrows(IllegalArgumentException.class, () -> new ProtocolSupportReply(S, D, 0x1000000));
    assertThrows(
        IllegalArgumentException.class, () -> new OptionalInteractionRejected(S, D, 0x10000, 0));
    assertThrows(IllegalArgumentException.class, () -> new TerminateDueToError(S, D, 0, -1));
  }
}
