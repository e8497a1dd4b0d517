package tappet.bridge.adapter.transfer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.FrameText;
import tappet.lcc.FrameTextReader;
import tappet.lcc.NodeId;

/**
 * A gateway between a segment, where a node has alias 67E, and a link with node 02.01.0D.12.34.56,
 * whose first alias is 458 (TN-9.7.2.1 §6.1); on virtual time.
 */
class GatewayTest {

  private static final NodeId FAR = NodeId.of("02.01.0D.12.34.56");
  private static final NodeId NEAR = NodeId.of("0A.57.00.00.00.01");
  private static final EventId EVENT = EventId.of("0A.57.00.00.00.01.00.07");
  private static final String NEAR_IS_67E = ":X1070167EN0A5700000001;";

  private final List<String> segment = new ArrayList<>();
  private final List<NetworkMessage> link = new ArrayList<>();
  private final Gateway gateway =
      new Gateway(
          new Gateway.Sides() {
            @Override
            public void toSegment(CanFrame frame) {
              segment.add(FrameText.encode(frame));
            }

            @Override
            public void toLink(NetworkMessage message) {
              link.add(message);
            }
          });
  private long nowNs;

  private void hear(String... frames) {
    for (String frame : frames) {
      byte[] text = frame.getBytes(StandardCharsets.ISO_8859_1);
      new FrameTextReader().feed(text, 0, text.length, heard -> gateway.frameHeard(heard, nowNs));
    }
  }

  private void hear(NetworkMessage message) {
    gateway.messageHeard(message, nowNs);
  }

  private void pass(long milliseconds) {
    nowNs += TimeUnit.MILLISECONDS.toNanos(milliseconds);
    gateway.advance(nowNs);
  }

  /** What the segment has heard since it was asked last. */
  private List<String> segment() {
    List<String> heard = List.copyOf(segment);
    segment.clear();
    return heard;
  }

  private List<NetworkMessage> link() {
    List<NetworkMessage> heard = List.copyOf(link);
    link.clear();
    return heard;
  }

  private static NetworkMessage global(int mti, NodeId source, String content) {
    return new NetworkMessage(
        mti, source, Optional.empty(), Optional.empty(), Content.ofHex(content));
  }

  private static NetworkMessage report(int mti, NodeId source, String payload) {
    return new NetworkMessage(
        mti, source, Optional.empty(), Optional.of(EVENT), Content.ofHex(payload));
  }

  private static NetworkMessage toNear(int mti, String content) {
    return new NetworkMessage(
        mti, FAR, Optional.of(NEAR), Optional.empty(), Content.ofHex(content));
  }

  private static NetworkMessage toFar(int mti, String content) {
    return new NetworkMessage(
        mti, NEAR, Optional.of(FAR), Optional.empty(), Content.ofHex(content));
  }

  /** Both sides have introduced themselves. */
  private void meet() {
    hear(global(0x0100, FAR, "02010D123456"));
    pass(250);
    hear(NEAR_IS_67E);
    segment();
    link();
  }

  private static final NodeId OTHER = NodeId.of("02.01.0D.12.34.57");

  /** How many event reports the segment hears of two far nodes that each say one. */
  private long reportsOfBoth() {
    hear(report(0x05B4, FAR, ""));
    hear(report(0x05B4, OTHER, ""));
    pass(250);
    return segment().stream().filter(frame -> frame.startsWith(":X195B4")).count();
  }

  // S-9.7.3.1 §6.1: nobody can ask for an event report again, so that all of them cross.
  @Test
  void everyFarNodeIsHeardAgainAndAgain() {
    assertEquals(2, reportsOfBoth());
    assertEquals(2, reportsOfBoth());
    assertEquals(2, reportsOfBoth());
    assertEquals(0, gateway.dropped());
  }

  // S-9.7.2.1 §6.2.3: everybody forgets the aliases of all others, and tells its own again.
  @Test
  void everyFarNodeIsHeardAfterAllWereAskedForTheirAliases() {
    assertEquals(2, reportsOfBoth());
    hear(NEAR_IS_67E, ":X1070267EN;");
    segment();
    assertEquals(2, reportsOfBoth());
    assertEquals(0, gateway.dropped());
  }

  // Behaviour 103: TN-9.7.2.1 §2.5, §2.6.2.4; S-9.7.2.1 §6.2.1
  @Test
  void farNodeGetsAnAliasBeforeItsFirstMessageAndGivesItUpAtTheEnd() {
    hear(global(0x0100, FAR, "02010D123456"));
    assertEquals(
        List.of(":X17020458N;", ":X1610D458N;", ":X15123458N;", ":X14456458N;"), segment());
    pass(249);
    assertEquals(List.of(), segment());
    pass(1);
    assertEquals(
        List.of(
            ":X10700458N;", ":X10701458N02010D123456;", ":X19100458N02010D123456;", ":X10702458N;"),
        segment());
    gateway.end();
    assertEquals(List.of(":X10703458N02010D123456;"), segment());
    assertEquals(0, gateway.farNodes());
  }

  // Behaviour 103; S-9.7.2.1 §6.2.1, §6.2.5
  @Test
  void aliasThatSomebodyElseUsesIsGivenUpAndAnotherReservedBeforeTheNextMessage() {
    meet();
    hear(":X10700458N;");
    hear(report(0x05B4, FAR, ""));
    List<String> reserving = segment();
    assertEquals(":X10703458N02010D123456;", reserving.get(0));
    assertEquals(5, reserving.size());
    pass(250);
    assertEquals(
        List.of(":X1070028BN;", ":X1070128BN02010D123456;", ":X195B428BN0A57000000010007;"),
        segment());
  }

  // S-9.7.2.1 §6.2.1: they are others to each other
  @Test
  void farNodesNeverShareAnAlias() {
    List<NodeId> nodes =
        IntStream.range(0, Gateway.FAR_NODES_MAX)
            .mapToObj(number -> new NodeId(0x0A58_0000_0000L + 0x1001L * number))
            .toList();
    nodes.forEach(node -> hear(global(0x0100, node, "0A5800000000")));
    for (int wait = 0; wait < 20; wait++) {
      pass(250);
    }
    List<String> definitions =
        segment().stream().filter(frame -> frame.startsWith(":X10701")).toList();
    Set<String> aliases = new HashSet<>();
    definitions.forEach(frame -> aliases.add(frame.substring(7, 10)));
    assertEquals(nodes.size(), aliases.size());
    assertTrue(definitions.size() < 2 * nodes.size());
  }

  @Test
  void quietestNodeGivesWayWithAmrOnceThereAreTooManyAndOnlyIfItWasQuietForLong() {
    meet();
    for (int number = 0; number < Gateway.FAR_NODES_MAX; number++) {
      hear(global(0x0100, new NodeId(0x0A58_0000_0000L + number), "0A5800000000"));
    }
    assertEquals(Gateway.FAR_NODES_MAX, gateway.farNodes());
    assertEquals(1, gateway.dropped());
    segment();
    pass(60_000);
    hear(global(0x0100, new NodeId(0x0A59_0000_0000L), "0A5900000000"));
    assertTrue(segment().contains(":X10703458N02010D123456;"));
    assertEquals(Gateway.FAR_NODES_MAX, gateway.farNodes());
  }

  // Behaviour 102: S-9.7.3 §3.6; S-9.7.3.1 §6.1
  @Test
  void globalMessagesCrossBothWays() {
    meet();
    hear(report(0x05B4, FAR, ""), global(0x0490, FAR, ""));
    assertEquals(List.of(":X195B4458N0A57000000010007;", ":X19490458N;"), segment());
    hear(":X1954767EN0A57000000010007;", ":X1917067EN0A5700000001;");
    assertEquals(List.of(report(0x0547, NEAR, ""), global(0x0170, NEAR, "0A5700000001")), link());
  }

  private void hear(NetworkMessage... messages) {
    for (NetworkMessage message : messages) {
      hear(message);
    }
  }

  // Behaviour 102: S-9.7.3.1 §7; TN-9.7.3.1 §3.1
  @ParameterizedTest
  @CsvSource({
    "AA, 1",
    "0102030405060708, 1",
    "010203040506070809, 2",
    "0102030405060708090A0B0C0D0E0F1011, 3",
  })
  void reportWithPayloadIsOneMessageOnTheLink(String payload, int payloadFrames) {
    meet();
    NetworkMessage whole = report(0x0F14, FAR, payload);
    hear(whole);
    List<String> frames = segment();
    assertEquals(1 + payloadFrames, frames.size());
    assertEquals(":X19F16458N0A57000000010007;", frames.get(0));
    assertTrue(frames.get(payloadFrames).startsWith(":X19F14458N"));
    frames.forEach(frame -> hear(frame.replace("458N", "67EN")));
    assertEquals(List.of(report(0x0F14, NEAR, payload)), link());
  }

  // Behaviour 102: S-9.7.3 §7.3.1.3, §7.3.7
  @Test
  void longMessagesAreCutOnTheSegmentAndWholeOnTheLink() {
    meet();
    hear(toNear(0x0A08, "0102030405060708"));
    assertEquals(List.of(":X19A08458N167E010203040506;", ":X19A08458N267E0708;"), segment());
    hear(":X19A0867EN1458010203040506;", ":X19A0867EN34580708090A0B0C;");
    assertEquals(List.of(), link());
    hear(":X19A0867EN24580D;");
    assertEquals(List.of(toFar(0x0A08, "0102030405060708090A0B0C0D")), link());
  }

  // Behaviour 102: TN-9.7.3.2 §2.7.3.1
  @Test
  void datagramsAreCutOnTheSegmentAndWholeOnTheLink() {
    meet();
    hear(toNear(0x1C48, "20410000000040"), toNear(0x1C48, "204100000000400102"));
    assertEquals(
        List.of(":X1A67E458N20410000000040;", ":X1B67E458N2041000000004001;", ":X1D67E458N02;"),
        segment());
    hear(":X1B45867EN2050;", ":X1C45867EN00000000;", ":X1D45867EN01;", ":X19A2867EN045880;");
    assertEquals(List.of(toFar(0x1C48, "20500000000001"), toFar(0x0A28, "80")), link());
  }

  // Behaviour 102: STREAM-S (draft) §4
  @Test
  void streamDataKeepsItsStreamInEveryFrame() {
    meet();
    hear(toNear(0x1F88, "050102030405060708"));
    assertEquals(List.of(":X1F67E458N0501020304050607;", ":X1F67E458N0508;"), segment());
    hear(":X1F45867EN0601;");
    assertEquals(List.of(toFar(0x1F88, "0601")), link());
  }

  // S-9.7.3.2 §7.3.2: refused where it was broken, for the time being
  @Test
  void brokenDatagramIsRefusedOnTheSegment() {
    meet();
    hear(":X1D45867EN01;");
    assertEquals(List.of(":X19A48458N067E2041;"), segment());
    assertEquals(List.of(), link());
  }

  // S-9.7.2.1 §6.2.3
  @Test
  void addressedMessageToAnUnknownAliasAsksForItAndWaits() {
    hear(global(0x0100, FAR, "02010D123456"));
    pass(250);
    segment();
    hear(toNear(0x0828, ""), report(0x05B4, FAR, ""), toNear(0x0DE8, ""));
    assertEquals(
        List.of(
            ":X10702458N0A5700000001;", ":X195B4458N0A57000000010007;", ":X10702458N0A5700000001;"),
        segment());
    hear(NEAR_IS_67E);
    assertEquals(List.of(":X19828458N067E;", ":X19DE8458N067E;"), segment());
  }

  // S-9.7.3 §3.5.1, §3.5.5, §3.7; S-9.7.3.2 §4.3
  @ParameterizedTest
  @CsvSource({"0828, , 0068, 10300828", "1C48, 2080, 0A48, 1030", "0A28, 00, ,"})
  void whoIsNotFoundWithinThreeSecondsIsTold(
      String mti, String content, String refusal, String told) {
    meet();
    hear(":X1070367EN0A5700000001;");
    hear(toNear(Integer.parseInt(mti, 16), content == null ? "" : content));
    pass(2_999);
    assertEquals(List.of(), link());
    pass(1);
    List<NetworkMessage> expected =
        refusal == null ? List.of() : List.of(toFar(Integer.parseInt(refusal, 16), told));
    assertEquals(expected, link());
    assertEquals(1, gateway.dropped());
  }

  // S-9.7.3.2 §6; S-9.7.3 §3.5.5: invalid arguments
  @ParameterizedTest
  @CsvSource({"1C48, 73, 0A48, 1080", "0DE8, 513, 0068, 10800DE8"})
  void messageTooLongForTheSegmentIsRefused(String mti, int length, String refusal, String told) {
    meet();
    hear(toNear(Integer.parseInt(mti, 16), "20".repeat(length)));
    assertEquals(List.of(), segment());
    assertEquals(List.of(toFar(Integer.parseInt(refusal, 16), told)), link());
  }

  @Test
  void globalMessageTooLongForTheSegmentIsDropped() {
    meet();
    hear(global(0x0490, FAR, "010203040506070809"), report(0x0F14, FAR, "00".repeat(257)));
    assertEquals(List.of(), segment());
    assertEquals(2, gateway.dropped());
  }

  // Behaviour 104: S-9.7.3 §3.1.1; ids: S-9.7.0.3 §5.13
  @ParameterizedTest
  @ValueSource(ints = {0x2490, 0x4490, 0x8490})
  void messageThatMustStayOnItsLinkDoesNotCross(int mti) {
    meet();
    hear(global(mti, FAR, ""));
    hear(global(0x0490, NodeId.of("00.01.0D.12.34.56"), ""));
    hear(global(0x0490, NodeId.of("FF.01.0D.12.34.56"), ""));
    pass(1_000);
    assertEquals(List.of(), segment());
    assertEquals(3, gateway.dropped());
  }

  // Behaviour 102: TN-9.7.2.1 §2.4
  @Test
  void noControlFrameCrosses() {
    meet();
    hear(":X1712367EN;", ":X1070067EN;", NEAR_IS_67E, ":X1070267EN;", ":X1071067EN0A5700000001;");
    assertEquals(List.of(), link());
    hear(":X1070367EN0A5700000001;");
    assertEquals(List.of(), link());
  }

  // S-9.7.3 §3.6: addressed messages reach their node; it is on this side already
  @Test
  void addressedMessageBetweenTwoNodesOfOneSideStaysThere() {
    meet();
    hear(":X10701222N0A5700000002;", ":X19828222N067E;", ":X1A67E222N2080;");
    NodeId other = NodeId.of("02.01.0D.12.34.57");
    hear(global(0x0100, other, "02010D123457"));
    hear(new NetworkMessage(0x0828, FAR, Optional.of(other), Optional.empty(), Content.EMPTY));
    pass(250);
    assertEquals(List.of(), link());
    assertTrue(segment().stream().noneMatch(frame -> frame.startsWith(":X19828")));
  }

  // S-9.7.3 §3.4.2
  @Test
  void frameOfAnUnknownAliasWaitsUntilItsSenderIsNamed() {
    meet();
    hear(":X195B4222N0A57000000010007;", ":X195B4222N0A57000000010007;");
    assertEquals(List.of(":X19488458N0222;"), segment());
    assertEquals(List.of(), link());
    hear(":X19170222N0A5700000002;");
    NodeId other = NodeId.of("0A.57.00.00.00.02");
    assertEquals(
        List.of(
            report(0x05B4, other, ""),
            report(0x05B4, other, ""),
            global(0x0170, other, "0A5700000002")),
        link());
  }

  @Test
  void whatWaitsIsGivenUpAfterThreeSeconds() {
    meet();
    hear(":X195B4222N0A57000000010007;");
    pass(2_999);
    assertEquals(0, gateway.dropped());
    pass(1);
    assertEquals(1, gateway.dropped());
    assertTrue(gateway.deadlineNs().isEmpty());
  }

  /** A segment joined with the link elsewhere would make each message come back for ever. */
  @Test
  void nodeOfTheSegmentIsNotTakenForOneOfTheLink() {
    meet();
    hear(report(0x05B4, NEAR, ""));
    pass(1_000);
    assertEquals(List.of(), segment());
  }

  // Common practice, no source: what an alias had begun ends with it
  @Test
  void halfAMessageIsForgottenWithItsAlias() {
    meet();
    hear(":X19A0867EN1458010203040506;", ":X1070367EN0A5700000001;");
    hear(":X1070167EN0A5700000009;", ":X19A0867EN245807;");
    assertEquals(List.of(), link());
  }

  /** Seed 11. What comes from either side may be anything; all that is kept of it is bounded. */
  @Test
  void anythingAtAllFromBothSidesIsBorne() {
    Random chance = new Random(11);
    meet();
    for (int number = 0; number < 20_000; number++) {
      int header = chance.nextInt() & CanFrame.HEADER_MAX & ~(chance.nextInt() & 0xF00);
      int destination = chance.nextBoolean() ? 0x458_000 : 0x67E_000;
      int aimed = chance.nextBoolean() ? (header & ~0xFFF_000) | destination : header;
      gateway.frameHeard(anyFrame(aimed, chance), nowNs);
      if (chance.nextInt(8) == 0) {
        hear(anything(chance));
        pass(chance.nextInt(40));
      }
      segment.clear();
      link.clear();
    }
    assertTrue(gateway.farNodes() <= Gateway.FAR_NODES_MAX);
    gateway.end();
    assertEquals(0, gateway.farNodes());
  }

  private static CanFrame anyFrame(int header, Random chance) {
    int length = chance.nextInt(CanFrame.LENGTH_MAX + 1);
    long address = (0x458L | (chance.nextInt(4) << 12)) << 48;
    long data = address | (chance.nextLong() >>> 16);
    return CanFrame.of(header, length, length == 0 ? 0 : data >>> (64 - 8 * length));
  }

  private static NetworkMessage anything(Random chance) {
    int mti = chance.nextBoolean() ? chance.nextInt(0x10000) : chance.nextInt(0x2000);
    NodeId source = new NodeId(0x0A58_0000_0000L + chance.nextInt(300));
    byte[] content = new byte[chance.nextInt(600)];
    chance.nextBytes(content);
    return new NetworkMessage(
        mti,
        source,
        (mti & 0x8) == 0 ? Optional.empty() : Optional.of(chance.nextBoolean() ? NEAR : FAR),
        (mti & 0x4) == 0 ? Optional.empty() : Optional.of(EVENT),
        Content.of(content));
  }
}
