package tappet.lcc.memory;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.Bytes;
import tappet.lcc.CanFrame;
import tappet.lcc.Dialogue;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Identity;
import tappet.lcc.NodeId;
import tappet.lcc.Seed;

/**
 * A node with everything it can have, on a bus where others do anything at all. Its id is
 * 02.01.0D.12.34.56, its first alias 458.
 */
class HostileBusTest {

  private static final NodeId NODE = NodeId.of("02.01.0D.12.34.56");
  private static final Identity YARD = new Identity("Works", "Box", "1", "2", "Yard", "Throat");
  private static final int MESSAGE = 0x1800_0000;

  private final IdentitySpaces identity = new IdentitySpaces(YARD, changed -> {});
  private final Dialogue dialogue =
      new Dialogue(
              NODE.toString(),
              List.of("02.01.0D.12.34.56.00.01"),
              List.of("02.01.0D.12.34.56.00.02"))
          .identifyAs(YARD)
          .serve(
              new MemoryServer(
                  NODE,
                  List.of(
                      MemorySpace.text(AddressSpace.DESCRIPTION, "", "<cdi/>"),
                      MemorySpace.writable(
                          AddressSpace.CONFIGURATION,
                          "",
                          Bytes.ofNumber(0, 64),
                          (address, content) -> {}),
                      identity.maker(),
                      identity.user()),
                  new Owner()))
          .produceAll(EventRange.of(NODE))
          .upAndReady();

  private final class Owner implements MemoryOwner {

    @Override
    public void updateComplete(long nowNs) {}

    @Override
    public void reboot(long nowNs) {
      dialogue.node.start(nowNs);
    }

    @Override
    public void factoryReset(long nowNs) {
      dialogue.node.start(nowNs);
    }

    @Override
    public Optional<EventId> nextUniqueEvent() {
      return Optional.of(new EventId(1));
    }
  }

  /** Whatever has happened, after a reset a newcomer finds a node that answers. */
  private void assertTheNodeAnswers(String run) {
    dialogue.start().pass(60_000).takeSaid();
    assertTrue(dialogue.node.ready(), run);
    String own = "%03X".formatted(dialogue.node.alias());
    dialogue.send(":X19488DEFN0" + own + ";", ":X19828DEFN0" + own + ";");
    dialogue.send(":X1A" + own + "DEFN204100000000" + "01;");
    assertEquals(
        List.of(
            ":X19170" + own + "N02010D123456;",
            ":X19668" + own + "N0DEF545800;",
            ":X19A28" + own + "N0DEF80;",
            ":X1ADEF" + own + "N205100000000"),
        dialogue.takeSaid().stream()
            .map(HostileBusTest::withoutMemory)
            .sorted(java.util.Comparator.comparingInt(HostileBusTest::order))
            .toList(),
        run);
  }

  private static int order(String text) {
    return List.of("170", "668", "A28").indexOf(text.substring(4, 7)) < 0
        ? 3
        : List.of("170", "668", "A28").indexOf(text.substring(4, 7));
  }

  private static String withoutMemory(String text) {
    return text.startsWith(":X1ADEF") ? text.substring(0, 23) : text;
  }

  // lcc.md §5.9: nothing that comes may stop a node
  @RepeatedTest(5)
  void anyFramesAtAllDoNotStopTheNode() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    for (int count = 0; count < 50_000; count++) {
      dialogue.node.receive(anyFrame(random), dialogue.nowNs());
      if (random.nextInt(100) == 0) {
        dialogue.pass(random.nextInt(1000)).takeSaid();
      }
    }
    assertTheNodeAnswers("seed " + seed);
  }

  /** Most are for the node and nearly right, or nothing would be reached. */
  private CanFrame anyFrame(Random random) {
    int own = Math.max(1, dialogue.node.alias());
    int source = 0x600 | random.nextInt(4);
    return switch (random.nextInt(10)) {
      case 0 -> CanFrame.of(random.nextInt(CanFrame.HEADER_MAX + 1), 8, random.nextLong());
      case 1, 2, 3, 4, 5 -> datagramFrame(random, own, source);
      default -> addressedFrame(random, own, source);
    };
  }

  private static CanFrame datagramFrame(Random random, int own, int source) {
    int header = MESSAGE | ((2 + random.nextInt(4)) << 24) | (own << 12) | source;
    int length = random.nextInt(9);
    long any = randomBytes(random, length);
    boolean ofMemory = length > 0 && random.nextBoolean();
    int firstBit = 8 * (length - 1);
    long value = ofMemory ? (any & ~(0xFFL << firstBit)) | (0x20L << firstBit) : any;
    return CanFrame.of(header, length, value);
  }

  private static CanFrame addressedFrame(Random random, int own, int source) {
    int mti = random.nextInt(0x1000) | 0x008;
    int length = 2 + random.nextInt(7);
    long address = ((long) random.nextInt(4) << 12) | own;
    long value = (address << (8 * (length - 2))) | randomBytes(random, length - 2);
    return CanFrame.of(MESSAGE | (1 << 24) | (mti << 12) | source, length, value);
  }

  private static long randomBytes(Random random, int length) {
    return length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
  }

  // S-9.7.3.2 §7.3.2: a datagram that breaks off anywhere does not spoil the next
  @Test
  void requestCutAnywhereIsFollowedByOneThatWorks() {
    String[] request = {
      ":X1B45867EN2001000000004142;", ":X1C45867EN4344454647484950;", ":X1D45867EN51;"
    };
    for (int kept = 0; kept <= request.length; kept++) {
      for (int length = 0; length <= 8; length++) {
        for (int place = 0; place < kept; place++) {
          boolean last = place == kept - 1;
          dialogue.send(last ? cut(request[place], length) : request[place]);
        }
        dialogue.takeSaid();
        dialogue.send(":X1A45867EN2080;");
        List<String> said = dialogue.takeSaid();
        assertTrue(said.contains(":X19A28458N067E80;"), said.toString());
        dialogue.send(":X19A2867EN0458;").pass(1000).takeSaid();
      }
    }
  }

  private static String cut(String text, int length) {
    return text.length() <= 11 + 2 * length + 1 ? text : text.substring(0, 11 + 2 * length) + ";";
  }

  // TN-9.7.2.1 §4: the node keeps up, and what it keeps of others has bounds
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1B458%03XN2041000000000000;",
        ":X1C458%03XN2041000000000000;",
        ":X1A458%03XN20410000000001;",
        ":X19A08%03XN1458414141414141;",
        ":X19DE8%03XN0458;",
        ":X19828%03XN0458;",
        ":X10701%1$03XN02010D000%1$03X;",
        ":X19914%03XN02010D123456%2$04X;",
        ":X19970%03XN;",
      })
  void floodFromAllAliasesLeavesNoHeap(String frame) {
    long before = heap();
    for (int round = 0; round < 5; round++) {
      for (int alias = 1; alias <= 0xFFF; alias++) {
        if (alias != 0x458) {
          dialogue.send(frame.formatted(alias, round * 0xC00 + alias));
          dialogue.takeSaid();
        }
      }
    }
    long grown = heap() - before;
    assertTrue(grown < 4_000_000, grown + " bytes more");
    assertTheNodeAnswers(frame);
  }

  private static long heap() {
    List<Long> sizes = new ArrayList<>();
    for (int count = 0; count < 3; count++) {
      System.gc();
      sizes.add(Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory());
    }
    return sizes.stream().mapToLong(Long::longValue).min().orElseThrow();
  }

  // lcc.md §19 item 19: a bus full of frames for others
  @Test
  void busAtFullLoadDoesNotKeepTheNodeFromAnswering() {
    for (int count = 0; count < 954; count++) {
      dialogue.send(":X195B4123N02010DABCDEF0001;");
      dialogue.pass(1);
      if (count % 100 == 50) {
        dialogue.send(":X17ABC458N;", ":X1070267EN;", ":X1948867EN0458;", ":X1982867EN0458;");
        dialogue.expect(":X10700458N;", ":X10701458N02010D123456;");
        List<String> said = dialogue.takeSaid();
        assertTrue(said.contains(":X19170458N02010D123456;"), said.toString());
        assertTrue(said.contains(":X19668458N067E545800;"), said.toString());
      }
    }
  }
}
