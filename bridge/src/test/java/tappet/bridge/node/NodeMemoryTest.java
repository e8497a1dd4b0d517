package tappet.bridge.node;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.lcc.AliasSeed;
import tappet.lcc.Bytes;
import tappet.lcc.DatagramAnswer;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;
import tappet.source.Problems;

/** Event ids of its own that the node gives to tools (S-9.7.4.2 §4.19), as many as they ask for. */
class NodeMemoryTest {

  private static final NodeId NODE = NodeId.of("0A.57.00.00.00.01");
  private static final int TOOL = 0x67E;
  private static final int HEAD_BYTES = 2;

  private final List<KeptState> kept = new ArrayList<>(List.of(KeptState.ofNew(NODE)));
  private final Set<EventId> used = new HashSet<>();
  private Layout layout;

  @BeforeEach
  void readTheLayout() throws Exception {
    Path plain = Path.of("..", "shared", "src", "test", "resources", "plain", "layout.yaml");
    layout =
        LayoutReader.read("layout.yaml", Files.readString(plain), new Problems()).orElseThrow();
  }

  // config/metrics.md recommends 0A.57.00.00.00.01.00.01 for the heartbeat of such a node.
  @Test
  void idsBeginWhereOwnersFilesHaveNone() {
    assertEquals(
        List.of("0A.57.00.00.00.01.80.00", "0A.57.00.00.00.01.80.01"), ask(ready(latest()), 2));
  }

  @Test
  void idsGivenByAnEarlierVersionKeepTheirCount() {
    KeptState before = KeptState.ofNew(NODE).withEventsGiven(3);
    assertEquals(List.of("0A.57.00.00.00.01.80.03"), ask(ready(before), 1));
  }

  @Test
  void idThatMeansSomethingToTheBoxIsPassedOver() {
    used.add(EventId.of("0A.57.00.00.00.01.80.00"));
    used.add(EventId.of("0A.57.00.00.00.01.80.02"));
    assertEquals(
        List.of("0A.57.00.00.00.01.80.01", "0A.57.00.00.00.01.80.03"), ask(ready(latest()), 2));
  }

  @Test
  void usedUpIdsAreRefusedAndNeverBeginAnew() {
    NodeMemory memory = ready(KeptState.ofNew(NODE).withEventsGiven(NodeMemory.EVENTS_MAX - 1));
    assertEquals(List.of("0A.57.00.00.00.01.FF.FF"), ask(memory, 1));
    assertEquals(Optional.of(0x1000), answer(memory, 1).errorCode());
    assertEquals(Optional.of(0x1000), answer(ready(latest()), 1).errorCode());
  }

  /** Of each request, the file has what was kept before it, and nothing that was kept since. */
  @Test
  void crashRightAfterARequestGivesNothingTwice() {
    Set<String> given = new HashSet<>();
    NodeMemory memory = ready(latest());
    for (int request = 1; request <= 20; request++) {
      KeptState onDisk = latest();
      given.addAll(ask(memory, 7));
      KeptState sinceThen = latest();
      assertEquals(7 * request, given.size());
      List<String> afterACrash = ask(ready(onDisk), 7);
      assertTrue(afterACrash.stream().noneMatch(given::contains), afterACrash::toString);
      kept.add(sinceThen);
    }
  }

  @Test
  void endInOrderWastesNothing() {
    NodeMemory memory = ready(latest());
    assertEquals(List.of("0A.57.00.00.00.01.80.00"), ask(memory, 1));
    memory.end();
    assertEquals(List.of("0A.57.00.00.00.01.80.01"), ask(ready(latest()), 1));
  }

  private KeptState latest() {
    return kept.get(kept.size() - 1);
  }

  private NodeMemory ready(KeptState before) {
    NodeMemory memory = new NodeMemory(NODE, layout, new Keeping("", before, kept::add), new Box());
    memory.aliasTaken(AliasSeed.of(NODE));
    return memory;
  }

  private static List<String> ask(NodeMemory memory, int count) {
    Bytes reply = answer(memory, count).reply().orElseThrow();
    List<String> events = new ArrayList<>();
    for (int at = HEAD_BYTES; at < reply.length(); at += Long.BYTES) {
      events.add(new EventId(reply.number(at, Long.BYTES)).toString());
    }
    return events;
  }

  private static DatagramAnswer answer(NodeMemory memory, int count) {
    return memory.services().get(0).receive(TOOL, Bytes.of(0x20, 0x8C, count), 0);
  }

  private final class Box implements NodeMemory.Box {

    @Override
    public void announceAgain() {}

    @Override
    public void restart(long nowNs) {}

    @Override
    public boolean uses(EventId event) {
      return used.contains(event);
    }
  }
}
