package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Random;
import java.util.Set;
import java.util.function.Consumer;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import tappet.lcc.Message.CheckId;
import tappet.lcc.Message.EventReport;
import tappet.lcc.Message.InitializationComplete;
import tappet.lcc.Message.ReserveId;

/** Several nodes on one bus, on virtual time. */
class BusTest {

  private static final long MS = 1_000_000;

  /**
   * Frames take their time, a different one to each node, but overtake no other of their sender.
   */
  private static final class Bus {

    private record Task(long atNs, long sequence, Runnable action) {}

    private final PriorityQueue<Task> tasks =
        new PriorityQueue<>(Comparator.comparingLong(Task::atNs).thenComparing(Task::sequence));
    private final List<LccNode> nodes = new ArrayList<>();
    private final List<String> log = new ArrayList<>();
    private final Random random;
    private final long delayMaxNs;
    private long nowNs;
    private long sequence;

    Bus(long seed, long delayMaxNs) {
      this.random = new Random(seed);
      this.delayMaxNs = delayMaxNs;
    }

    LccNode join(long nodeId, Consumer<CanFrame> spy) {
      int place = nodes.size();
      List<Long> clearFrom = new ArrayList<>();
      LccNode node =
          new LccNode(
              new NodeId(nodeId),
              new Dialogue("02.01.0D.00.00.00", List.of(), List.of()),
              frame -> {
                spy.accept(frame);
                log.add(nowNs + " " + place + " " + FrameText.encode(frame));
                carry(place, frame, clearFrom);
              });
      nodes.add(node);
      return node;
    }

    private void carry(int from, CanFrame frame, List<Long> clearFrom) {
      for (int to = 0; to < nodes.size(); to++) {
        if (clearFrom.size() <= to) {
          clearFrom.add(0L);
        }
        long arrival = nowNs + (delayMaxNs == 0 ? 0 : random.nextLong(delayMaxNs));
        clearFrom.set(to, Math.max(clearFrom.get(to), arrival));
        if (to != from) {
          LccNode receiver = nodes.get(to);
          at(clearFrom.get(to), () -> receiver.receive(frame, nowNs));
        }
      }
    }

    void at(long atNs, Runnable action) {
      tasks.add(new Task(atNs, sequence++, action));
    }

    void run(long untilNs) {
      while (nextNs() <= untilNs) {
        nowNs = nextNs();
        if (!tasks.isEmpty() && tasks.peek().atNs() == nowNs) {
          tasks.remove().action().run();
        } else {
          nodes.forEach(node -> node.advance(nowNs));
        }
      }
      nowNs = untilNs;
    }

    private long nextNs() {
      long next = tasks.isEmpty() ? Long.MAX_VALUE : tasks.peek().atNs();
      for (LccNode node : nodes) {
        next = Math.min(next, node.deadlineNs().orElse(Long.MAX_VALUE));
      }
      return next;
    }

    void assertAllReadyWithAliasesOfTheirOwn(String run) {
      Set<Integer> aliases = new HashSet<>();
      for (LccNode node : nodes) {
        assertTrue(node.ready(), run + ": " + node.id() + " is not ready");
        assertTrue(aliases.add(node.alias()), run + ": two nodes have " + node.alias());
      }
    }
  }

  // TN-9.7.2.1 Appendix A: these four have the same first alias, 113; S-9.7.2.1 §6.2.1, §6.2.5
  @Test
  void nodesThatWantTheSameAliasEndWithDifferentOnes() {
    Bus bus = new Bus(0, 0);
    for (long id : List.of(0x020121000012L, 0x020112000021L, 0x020111000022L, 0x020122000011L)) {
      LccNode node = bus.join(id, frame -> {});
      bus.at(0, () -> node.start(bus.nowNs));
    }
    bus.run(5000 * MS);
    bus.assertAllReadyWithAliasesOfTheirOwn("no seed");
  }

  // S-9.7.2.1 §6.2.5: who has the alias keeps it
  @Test
  void lateComerLeavesTheAliasToItsHolder() {
    Bus bus = new Bus(0, 0);
    LccNode first = bus.join(0x020121000012L, frame -> {});
    LccNode second = bus.join(0x020112000021L, frame -> {});
    bus.at(0, () -> first.start(bus.nowNs));
    bus.at(1000 * MS, () -> second.start(bus.nowNs));
    bus.run(5000 * MS);
    assertEquals(0x113, first.alias());
    assertEquals(0xA24, second.alias());
  }

  @RepeatedTest(20)
  void anyNodesAtAnyTimesEndReadyWithAliasesOfTheirOwn() {
    long seed = Seed.of(getClass());
    List<String> log = runRandomBus(seed);
    assertEquals(log, runRandomBus(seed), "seed " + seed + " does not repeat");
  }

  /** Delays stay far below the 200 ms in which others may object (S-9.7.2.1 §6.2.1). */
  private static List<String> runRandomBus(long seed) {
    Random random = new Random(seed);
    Bus bus = new Bus(random.nextLong(), 50 * MS);
    for (long id : idsWithManyClashes(random)) {
      LccNode node = bus.join(id, new GoodMannersOf(bus, seed));
      bus.at(random.nextLong(1000 * MS), () -> node.start(bus.nowNs));
      if (random.nextInt(4) == 0) {
        bus.at((1000 + random.nextInt(1000)) * MS, () -> node.start(bus.nowNs));
      }
    }
    bus.run(60_000 * MS);
    bus.assertAllReadyWithAliasesOfTheirOwn("seed " + seed);
    return bus.log;
  }

  /** Ids made of the same four parts in another order have the same first alias. */
  private static List<Long> idsWithManyClashes(Random random) {
    Set<Long> ids = new HashSet<>();
    List<Long> parts = new ArrayList<>();
    for (int count = 0; count < 4; count++) {
      parts.add((long) random.nextInt(0x1000));
    }
    for (int count = 0; count < 12; count++) {
      Collections.shuffle(parts, random);
      ids.add(parts.stream().reduce(0L, (id, part) -> (id << 12) | part));
    }
    return ids.stream().sorted().toList();
  }

  /** S-9.7.2.1 §5, §6.2.1; S-9.7.3 §3.4.1: what a node may send, and when, since its start. */
  private static final class GoodMannersOf implements Consumer<CanFrame> {

    private final Bus bus;
    private final String run;
    private int alias;
    private long lastCheckNs;
    private boolean initialized;

    GoodMannersOf(Bus bus, long seed) {
      this.bus = bus;
      this.run = "seed " + seed;
    }

    @Override
    public void accept(CanFrame frame) {
      Message message = Messages.decode(frame);
      if (message instanceof CheckId check) {
        alias = check.source();
        lastCheckNs = bus.nowNs;
      } else if (message instanceof ReserveId) {
        assertTrue(bus.nowNs - lastCheckNs >= 200 * MS, run);
      } else if (message instanceof InitializationComplete) {
        initialized = true;
      } else if (message instanceof EventReport) {
        assertTrue(initialized, run);
      }
      assertEquals(0x1000_0000, frame.header() & 0x1000_0000, run);
      assertTrue(frame.sourceAlias() != 0 && frame.sourceAlias() == alias, run);
    }
  }
}
