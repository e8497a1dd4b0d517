package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.NodeId;

/** How the railway is called. */
class RailwayTest {

  private static final TrackPlan PLAN = SmallPlan.junction().plan();
  private static final Switch T = PLAN.layout().switches().get("t");
  private static final long SECOND = 1_000_000_000L;

  private static CanFrame report(EventId event) {
    return new Message.EventReport(0xEEE, event).encode();
  }

  @Test
  void throwTimeIsForTheOwnerToSet() {
    var railway = new Railway(PLAN, List.of(), frame -> {}, Duration.ofMillis(500));
    railway.start(0);
    railway.receive(report(T.to().get(Position.REVERSE)), SECOND);
    railway.advance(SECOND + SECOND / 2 - 1);
    assertEquals(Optional.empty(), railway.lies("t"));
    railway.advance(SECOND + SECOND / 2);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t"));
  }

  @Test
  void timeThatGoesBackCountsAsTheLatest() {
    var railway = new Railway(PLAN, List.of(), frame -> {});
    railway.start(0);
    railway.advance(10 * SECOND);
    railway.receive(report(T.to().get(Position.REVERSE)), 3 * SECOND);
    assertEquals(11_500_000_000L, railway.deadlineNs().orElseThrow());
  }

  @Test
  void timeMayBeginAnywhereBelowZeroToo() {
    var railway = new Railway(PLAN, List.of(), frame -> {});
    railway.start(-7 * SECOND);
    railway.advance(-6 * SECOND);
    railway.receive(report(T.to().get(Position.REVERSE)), -5 * SECOND);
    railway.advance(-5 * SECOND + 1_499_999_999);
    assertEquals(Optional.empty(), railway.lies("t"));
    railway.advance(-5 * SECOND + 1_500_000_000);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t"));
  }

  @Test
  void whoeverHearsABoardMayAnswerAtOnce() {
    var railways = new ArrayList<Railway>();
    CanFrame clear = report(PLAN.layout().signals().get("e").shows().get("clear"));
    EventId atReverse = T.at().get(Position.REVERSE);
    var railway =
        new Railway(
            PLAN,
            List.of(),
            frame -> {
              if (frame.length() == 8 && frame.data() == atReverse.value()) {
                railways.get(0).receive(clear, 0);
              }
            });
    railways.add(railway);
    railway.start(0);
    railway.receive(report(T.to().get(Position.REVERSE)), SECOND);
    railway.advance(3 * SECOND);
    assertEquals("clear", railway.aspect("e"));
  }

  @Test
  void whatTheLayoutDoesNotHaveIsRefused() {
    var railway = new Railway(PLAN, List.of(), frame -> {});
    assertThrows(IllegalArgumentException.class, () -> railway.failSwitch("x"));
    assertThrows(IllegalArgumentException.class, () -> railway.forceSection("x", true));
    assertThrows(IllegalArgumentException.class, () -> railway.aspect("x"));
    assertThrows(IllegalArgumentException.class, () -> railway.silence(new NodeId(1)));
  }
}
