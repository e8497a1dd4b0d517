package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTimeout;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainState.Activity;
import tappet.source.Problems;

/** The plain Ambrose Valley Line under simulated trains. */
class AmbroseValleyTest {

  static final TrackPlan PLAN = plan();

  private static TrackPlan plan() {
    try {
      var text =
          Files.readString(
              Path.of("..", "shared", "src", "test", "resources", "plain", "layout.yaml"));
      return new TrackPlan(LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow());
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void oneBoardAControlPointIsOnTheBus() {
    var bench = Bench.ready(PLAN);
    assertEquals(5, bench.railway.boards().size());
    assertTrue(bench.railway.boards().stream().allMatch(bench.railway::isReady));
  }

  @Test
  void trainRunsFromTheStagingYardThroughTheLadderToYardTwo() {
    var bench = Bench.ready(PLAN, train("Extra 41", "fallow-2", Heading.EAST, 1.4));
    List.of("s1", "c1", "y2").forEach(id -> bench.call(id, Position.REVERSE));
    bench.passMs(2_000);
    bench.told();
    List.of("f4e", "c2e").forEach(signal -> bench.show(signal, "diverging-approach"));
    List.of("t2e", "t4e", "m2e").forEach(signal -> bench.show(signal, "clear"));
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> isAt(bench, Activity.AT_END_OF_TRACK)));
    assertEquals("yard-2", bench.train("Extra 41").nextJoint());
    assertEquals(List.of("yard-throat"), bench.railway.occupied());
    assertEquals(List.of(), bench.railway.mishaps());
    assertEquals(
        List.of(
            "fallow-os occupied",
            "west-main occupied",
            "fallow-2 clear",
            "fallow-os clear",
            "tilling-w occupied",
            "tilling-main occupied",
            "west-main clear",
            "tilling-w clear",
            "tilling-e occupied",
            "mid-west occupied",
            "tilling-main clear",
            "tilling-e clear",
            "mid-east occupied",
            "mid-west clear",
            "corvane-w occupied",
            "yard-lead occupied",
            "mid-east clear",
            "corvane-w clear",
            "yard-throat occupied",
            "yard-lead clear"),
        bench.told());
  }

  @Test
  void meetAtTillingGoesByWithoutAMishap() {
    var bench =
        Bench.ready(
            PLAN,
            train("Extra 41", "west-main", Heading.EAST, 1.4),
            train("Second 7", "mid-west", Heading.WEST, 1.4));
    bench.call("t1", Position.REVERSE);
    bench.passMs(2_000);
    bench.show("t2e", "diverging-approach");
    bench.run("Extra 41");
    bench.run("Second 7");
    assertTrue(bench.passUntil(() -> isWaiting(bench, "Extra 41", "t6e")));
    assertEquals(List.of("tilling-siding"), bench.train("Extra 41").sections());
    bench.call("t1", Position.NORMAL);
    bench.passMs(2_000);
    bench.show("t8w", "clear");
    bench.show("t4w", "clear");
    assertTrue(bench.passUntil(() -> isWaiting(bench, "Second 7", "f6w")));
    assertTrue(isWaiting(bench, "Extra 41", "t6e"));
    assertEquals(List.of(), bench.railway.mishaps());
  }

  private static boolean isWaiting(Bench bench, String train, String signal) {
    return bench.train(train).waitsFor().filter(signal::equals).isPresent();
  }

  private static boolean isAt(Bench bench, Activity activity) {
    return bench.train("Extra 41").activity() == activity;
  }

  @Test
  void minuteOfABusyBusCostsLittle() {
    // TN-9.7.2.1 §4: about 900 frames a second at most, and nodes must keep up with all of them.
    var bench = Bench.ready(PLAN, train("Extra 41", "fallow-1", Heading.EAST, 1.4));
    CanFrame foreign =
        new Message.EventReport(0xABC, EventId.of("0A.57.00.00.77.00.00.01")).encode();
    bench.run("Extra 41");
    assertTimeout(
        Duration.ofSeconds(6),
        () -> {
          for (int frame = 0; frame < 60 * 900; frame++) {
            bench.railway.receive(foreign, bench.nowNs() + frame * Bench.MS * 10 / 9);
          }
        });
  }
}
