package tappet.bridge.hub;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import tappet.lcc.CanFrame;

/** The guard against rings, on a clock moved by hand. Common practice, no source. */
class RingGuardTest {

  private static final long MS = 1_000_000L;

  private final Line west = new Line("west");
  private final Line yard = new Line("yard");
  private final Line east = new Line("east");
  private final Side side = new Side();
  private final RingGuard guard = new RingGuard(side, new SplittableRandom(7));
  private long nowNs = -5 * 1_000_000_000L;

  @Test
  void boardThatRepeatsItselfIsNeverSuspected() {
    for (int time = 0; time < 10_000; time++) {
      assertFalse(hear(yard, frame(1)));
    }
    assertEquals(List.of(), side.sent);
  }

  @Test
  void busyBusIsNeverSuspected() {
    for (int number = 0; number < 20_000; number++) {
      assertFalse(hear(west, CanFrame.of(0x195B4001, 8, number % 50)));
      assertFalse(hear(yard, CanFrame.of(0x195B4002, 8, number % 50)));
      nowNs += MS;
    }
    assertEquals(List.of(), side.sent);
  }

  @Test
  void sameFramesFromTwoConnectionsCostASearchAndNothingElse() {
    for (int time = 0; time < 1_000; time++) {
      assertFalse(hear(west, frame(time)));
      assertFalse(hear(yard, frame(time)));
      nowNs += MS;
    }

    assertTrue(side.sent.size() >= 3, side.sent.toString());
    assertTrue(side.sent.size() <= 5 * 3, side.sent.toString());
    assertEquals(List.of(), side.news);
  }

  @Test
  void searchThatComesBackCutsTheConnectionThatCameLast() {
    suspect();

    assertTrue(hear(east, side.lastDown(yard)));

    assertEquals(List.of("cut east: was cut off: it forms a ring with yard"), side.news);
    assertTrue(hear(east, frame(77)));
    assertFalse(hear(west, frame(78)));
  }

  @Test
  void oneRingIsCutAtOnePlaceOnly() {
    suspect();

    hear(east, side.lastDown(yard));
    hear(yard, side.lastDown(east));
    hear(east, side.lastDown(west));

    assertEquals(1, side.news.size(), side.news.toString());
  }

  @Test
  void echoIsCutOnlyAfterItPersists() {
    for (int search = 1; search <= RingGuard.ECHOES_PROOF; search++) {
      assertEquals(List.of(), side.news);
      suspect();
      assertTrue(hear(yard, side.lastDown(yard)));
      nowNs += 200 * MS;
    }
    assertEquals(
        List.of("cut yard: was cut off: it sends back what it is told, as if it ended in a ring"),
        side.news);
  }

  @Test
  void cutConnectionIsTriedAndPutBackWhenNothingComesBack() {
    suspect();
    hear(east, side.lastDown(yard));

    passTime(RingGuard.FIRST_REST_NS * 3 / 2);
    assertEquals(4, side.sent.size());
    passTime(RingGuard.PATIENCE_NS);

    assertEquals("put back east", side.news.get(1));
    assertFalse(hear(east, frame(77)));
  }

  @Test
  void restsGetLongerWhileTheRingLasts() {
    suspect();
    hear(east, side.lastDown(yard));
    List<Long> triedNs = new ArrayList<>();
    for (int step = 0; step < 2_000; step++) {
      int before = side.sent.size();
      passTime(100 * MS);
      if (side.sent.size() > before) {
        triedNs.add(nowNs);
        assertTrue(hear(yard, side.lastDown(east)));
      }
    }
    assertEquals(1, side.news.size(), side.news.toString());
    // 1, 2, 4, 8, 16 and then 30 seconds, each a quarter more or less, within 200 seconds.
    assertTrue(triedNs.size() >= 8 && triedNs.size() <= 12, triedNs.toString());
  }

  @Test
  void endOfTheOtherWayHasTheCutConnectionTriedAtOnce() {
    suspect();
    hear(east, side.lastDown(yard));

    side.lines.remove(yard);
    guard.gone(yard, nowNs);
    passTime(0);
    assertEquals(east, side.sent.get(side.sent.size() - 1).to);
    passTime(RingGuard.PATIENCE_NS);

    assertEquals("put back east", side.news.get(1));
  }

  @Test
  void hubGivesWayToASearchOfAGreaterNumberAndHoldsALesserOne() {
    suspect();
    CanFrame own = side.lastDown(west);

    assertTrue(hear(yard, CanFrame.empty(0x11000001)));
    assertFalse(hear(yard, CanFrame.empty(0x11FFFFFF)));
    hear(east, own);

    assertEquals(List.of(), side.news);
  }

  @Test
  void searchOfAnotherHubPassesOnceOnly() {
    CanFrame foreign = CanFrame.empty(0x11ABC123);

    assertFalse(hear(west, foreign));
    assertTrue(hear(yard, foreign));
    assertFalse(hear(west, foreign));
  }

  private void suspect() {
    for (int copy = 0; copy < RingGuard.COPIES_SUSPECT; copy++) {
      CanFrame frame = CanFrame.of(0x195B4100, 8, nowNs + copy);
      hear(west, frame);
      hear(yard, frame);
    }
  }

  private boolean hear(Connection from, CanFrame frame) {
    return guard.keeps(from, frame, nowNs);
  }

  private void passTime(long ns) {
    nowNs += ns;
    if (side.wakeNs <= nowNs) {
      guard.wake(nowNs);
    }
  }

  private static CanFrame frame(int number) {
    return CanFrame.of(0x195B4573, 4, number);
  }

  private record Sent(Connection to, CanFrame frame) {}

  private record Line(String name) implements Connection {
    @Override
    public void send(CanFrame frame) {}

    @Override
    public void close() {}
  }

  private final class Side implements RingGuard.Ringside {
    private final List<Connection> lines = new ArrayList<>(List.of(west, yard, east));
    private final List<Sent> sent = new ArrayList<>();
    private final List<String> news = new ArrayList<>();
    private long wakeNs = Long.MAX_VALUE;

    CanFrame lastDown(Connection to) {
      return sent.stream().filter(one -> one.to == to).reduce((a, b) -> b).orElseThrow().frame;
    }

    @Override
    public List<Connection> connections() {
      return lines;
    }

    @Override
    public void sendDown(Connection to, CanFrame frame) {
      sent.add(new Sent(to, frame));
    }

    @Override
    public void cut(Connection connection, String why) {
      news.add("cut " + connection.name() + ": " + why);
    }

    @Override
    public void putBack(Connection connection) {
      news.add("put back " + connection.name());
    }

    @Override
    public void wakeAfter(long delayNs) {
      wakeNs = nowNs + delayNs;
    }
  }
}
