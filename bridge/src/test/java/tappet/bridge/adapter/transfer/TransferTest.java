package tappet.bridge.adapter.transfer;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;

/** The binary form over TCP: TCP-S (draft), Preliminary, 2021-04-30; sections in each test. */
class TransferTest {

  private static final NodeId NODE = NodeId.of("02.01.0D.12.34.56");
  private static final NodeId OTHER = NodeId.of("02.01.0D.AB.CD.EF");
  private static final NodeId GATEWAY = NodeId.of("05.01.01.01.22.01");
  private static final HexFormat HEX = HexFormat.of().withUpperCase();

  private final List<Transfer> heard = new ArrayList<>();
  private final TransferReader reader = new TransferReader();

  // TCP-S (draft) §4; the vectors are those of the fact sheet.
  @ParameterizedTest(name = "{0}")
  @CsvFileSource(resources = "/transfer.csv", numLinesToSkip = 1)
  void bytesAndMessageAreOne(
      String name,
      String bytes,
      String mti,
      String source,
      String destination,
      String event,
      String content,
      String originator,
      long timeMs) {
    NetworkMessage message =
        new NetworkMessage(
            Integer.parseInt(mti, 16),
            NodeId.of(source),
            Optional.ofNullable(destination).map(NodeId::of),
            Optional.ofNullable(event).map(EventId::of),
            content == null ? Content.EMPTY : Content.ofHex(content));
    Transfer transfer = Transfer.of(new Hop(NodeId.of(originator), timeMs), message);

    assertEquals(bytes, HEX.formatHex(transfer.encode()), name);
    byte[] twice = HEX.parseHex(bytes + bytes);
    for (int cut = 0; cut <= twice.length; cut++) {
      assertEquals(List.of(transfer, transfer), readInTwo(twice, cut), name);
    }
  }

  private static List<Transfer> readInTwo(byte[] bytes, int cut) {
    List<Transfer> read = new ArrayList<>();
    TransferReader fresh = new TransferReader();
    fresh.feed(bytes, 0, cut, read::add);
    fresh.feed(bytes, cut, bytes.length - cut, read::add);
    return read;
  }

  // TCP-S (draft) §4.
  @ParameterizedTest
  @CsvSource({"SINGLE, 8000", "FIRST, 8400", "MIDDLE, 8C00", "LAST, 8800"})
  void partsAreMarkedInTheFlags(Part part, String flags) {
    Transfer transfer = new Transfer(List.of(new Hop(NODE, 1)), part, datagram("20"));

    assertEquals(flags, HEX.formatHex(transfer.encode(), 0, 2));
    read(transfer.encode());
    assertEquals(List.of(transfer), heard);
  }

  @Test
  void gatewayPutsItsHopInFrontAndTheChainIsReadBack() {
    // TCP-S (draft) §6; that the outer length counts the inner hop is our reading.
    Transfer first = Transfer.of(new Hop(NODE, 7), datagram("2080"));

    Transfer passedOn = first.passedOnBy(new Hop(GATEWAY, 99));

    String inner = HEX.formatHex(first.encode());
    assertEquals(
        "C000" + "00002D" + "050101012201" + "000000000063" + inner,
        HEX.formatHex(passedOn.encode()));
    read(passedOn.encode());
    assertEquals(List.of(passedOn), heard);
    assertEquals(List.of(new Hop(GATEWAY, 99), new Hop(NODE, 7)), heard.get(0).hops());
  }

  // TCP-S (draft) §4: 0x3000 is checked; lengths and ids must fit.
  @ParameterizedTest(name = "{0}")
  @CsvSource({
    "reserved bit 0x1000, 900000001402010DABCDEF000000000001049002010DABCDEF",
    "reserved bit 0x2000, A00000001402010DABCDEF000000000001049002010DABCDEF",
    "no source, 800000000E02010DABCDEF0000000000010490",
    "no destination, 800000001402010DABCDEF000000000001048802010DABCDEF",
    "no event id, 800000001402010DABCDEF00000000000105B402010DABCDEF",
    "no MTI, 800000000C02010DABCDEF000000000001",
    "no whole hop, 800000000302010D",
    "chained to nothing, C00000000C02010DABCDEF000000000001",
    "inner length too short, C00000002502010DABCDEF000000000001"
        + "800000001302010DABCDEF000000000001049002010DABCDEF",
  })
  void senselessTransferIsSkippedByItsLengthAndCounted(String name, String bytes) {
    Transfer good = Transfer.of(new Hop(NODE, 7), datagram("2080"));

    read(HEX.parseHex(bytes));
    read(good.encode());

    assertEquals(List.of(good), heard, name);
    assertEquals(1, reader.malformed(), name);
  }

  @Test
  void ignoredBitsAreIgnored() {
    // TCP-S (draft) §4: 0x03FF is sent as 0 and ignored.
    read(HEX.parseHex("83FF00001402010DABCDEF000000000001049002010DABCDEF"));

    assertEquals(1, heard.size());
  }

  @Test
  void linkControlIsSkippedAndCounted() {
    // TCP-S (draft) §4.1, §6.1 and §7 give no codes.
    read(HEX.parseHex("0000000002ABCD"));
    read(HEX.parseHex("0000000000"));

    assertEquals(List.of(), heard);
    assertEquals(2, reader.linkControls());
    assertEquals(0, reader.malformed());
  }

  @Test
  void transferTooLongIsSkippedWithoutBeingKept() {
    // Common practice: input is bounded.
    byte[] head = HEX.parseHex("80000FFFFF");
    Transfer good = Transfer.of(new Hop(NODE, 7), datagram("2080"));

    read(head);
    byte[] filler = new byte[4096];
    for (int left = 0x0FFFFF; left > 0; left -= filler.length) {
      reader.feed(filler, 0, Math.min(left, filler.length), heard::add);
    }
    read(good.encode());

    assertEquals(List.of(good), heard);
    assertEquals(1, reader.malformed());
  }

  @Test
  void noiseNeverThrows() {
    Random random = new Random(31);
    for (int turn = 0; turn < 200; turn++) {
      byte[] noise = new byte[2_000];
      random.nextBytes(noise);
      noise[2] = 0;
      new TransferReader().feed(noise, 0, noise.length, heard::add);
    }
    assertTrue(heard.size() < 200, "seed 31");
  }

  @Test
  void messageOfItsLinkOnlyIsKnownAsSuch() {
    // S-9.7.3 §3.1.1.
    NetworkMessage here =
        new NetworkMessage(0x2000, NODE, Optional.empty(), Optional.empty(), Content.EMPTY);

    assertFalse(here.mayBeForwarded());
    assertTrue(datagram("20").mayBeForwarded());
  }

  @Test
  void messageWhoseIdsDoNotFitItsMtiIsRefused() {
    // S-9.7.3 §3.1.1.
    assertThrows(
        IllegalArgumentException.class,
        () -> new NetworkMessage(0x0488, NODE, Optional.empty(), Optional.empty(), Content.EMPTY));
    assertThrows(
        IllegalArgumentException.class,
        () -> new NetworkMessage(0x05B4, NODE, Optional.empty(), Optional.empty(), Content.EMPTY));
    assertThrows(IllegalArgumentException.class, () -> new Hop(NODE, -1));
    assertThrows(
        IllegalArgumentException.class, () -> new Transfer(List.of(), Part.SINGLE, datagram("20")));
  }

  @Test
  void partsAreJoinedWithTheLowestTimes() {
    // TCP-S (draft) §5.1.
    PartJoiner joiner = new PartJoiner();

    assertEquals(Optional.empty(), joiner.join(part(Part.FIRST, 30, "2080"), 0));
    assertEquals(Optional.empty(), joiner.join(part(Part.MIDDLE, 10, "0102"), 1));
    assertEquals(
        Optional.of(part(Part.SINGLE, 10, "2080010203")),
        joiner.join(part(Part.LAST, 20, "03"), 2));
    assertEquals(0, joiner.dropped());
  }

  @Test
  void partsOfTwoMessagesMayAlternate() {
    PartJoiner joiner = new PartJoiner();
    Transfer otherFirst = new Transfer(List.of(new Hop(GATEWAY, 5)), Part.FIRST, datagram("AA"));
    Transfer otherLast = new Transfer(List.of(new Hop(GATEWAY, 6)), Part.LAST, datagram("BB"));

    joiner.join(part(Part.FIRST, 1, "01"), 0);
    joiner.join(otherFirst, 0);
    assertEquals(
        Optional.of(part(Part.SINGLE, 1, "0102")), joiner.join(part(Part.LAST, 2, "02"), 0));
    assertEquals(
        Optional.of(Transfer.of(new Hop(GATEWAY, 5), datagram("AABB"))), joiner.join(otherLast, 0));
  }

  @Test
  void partsThatDoNotFitAreDroppedAndCounted() {
    PartJoiner joiner = new PartJoiner();

    assertEquals(Optional.empty(), joiner.join(part(Part.LAST, 1, "01"), 0));
    assertEquals(Optional.empty(), joiner.join(part(Part.MIDDLE, 1, "01"), 0));
    joiner.join(part(Part.FIRST, 1, "01"), 0);
    joiner.join(part(Part.FIRST, 1, "02"), 0);
    assertEquals(3, joiner.dropped());
    assertEquals(
        Optional.of(part(Part.SINGLE, 1, "0203")), joiner.join(part(Part.LAST, 1, "03"), 0));
  }

  @Test
  void messageThatIsNeverEndedIsForgotten() {
    // S-9.7.3 §3.7: no protective time below 3 s.
    PartJoiner joiner = new PartJoiner();
    joiner.join(part(Part.FIRST, 1, "01"), 0);

    assertEquals(Optional.empty(), joiner.join(part(Part.LAST, 1, "02"), PartJoiner.PATIENCE_NS));
    assertEquals(2, joiner.dropped());
  }

  @Test
  void contentIsAValue() {
    byte[] bytes = {1, 2};
    Content content = Content.of(bytes);
    bytes[0] = 9;

    assertEquals(Content.ofHex("0102"), content);
    assertEquals(Content.ofHex("0102").hashCode(), content.hashCode());
    assertArrayEquals(new byte[] {1, 2}, content.toBytes());
    assertEquals("0102", content.toString());
  }

  private void read(byte[] bytes) {
    reader.feed(bytes, 0, bytes.length, heard::add);
  }

  private static Transfer part(Part part, long timeMs, String content) {
    return new Transfer(List.of(new Hop(NODE, timeMs)), part, datagram(content));
  }

  private static NetworkMessage datagram(String content) {
    return new NetworkMessage(
        0x1C48, NODE, Optional.of(OTHER), Optional.empty(), Content.ofHex(content));
  }
}
