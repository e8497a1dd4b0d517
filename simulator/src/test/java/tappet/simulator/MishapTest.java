package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.sentence.Command.Heading;
import tappet.simulator.Mishap.Kind;
import tappet.simulator.TrainState.Activity;

/** What must not happen on a railroad is noticed. Common practice, no source. */
class MishapTest {

  private static Mishap only(Bench bench) {
    assertEquals(1, bench.railway.mishaps().size(), () -> "" + bench.railway.mishaps());
    return bench.railway.mishaps().get(0);
  }

  @Test
  void trainsThatRunAtEachOtherCollideAndStop() {
    var bench =
        Bench.ready(
            SmallPlan.straight(2, 2, 2).plan(),
            train("Extra 41", "s1", Heading.EAST, 0.5),
            train("Second 7", "s3", Heading.WEST, 0.5));
    bench.run("Extra 41");
    bench.run("Second 7");
    bench.passMs(60_000);
    assertEquals(Kind.COLLISION, only(bench).kind());
    assertEquals(List.of("Extra 41", "Second 7"), only(bench).trains());
    assertEquals("s2", only(bench).section());
    assertTrue(bench.railway.deadlineNs().isEmpty());
  }

  @Test
  void trainThatCatchesUpWithAStandingOneCollides() {
    var bench =
        Bench.ready(
            SmallPlan.straight(2, 2).plan(),
            train("Extra 41", "s1", Heading.EAST, 0.5),
            train("Second 7", "s2", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(Kind.COLLISION, only(bench).kind());
  }

  private static Bench twoLinesThatCross() {
    return Bench.ready(
        SmallPlan.crossing().plan(),
        train("Extra 41", "west", Heading.EAST, 0.5),
        train("Second 7", "north", Heading.EAST, 0.5));
  }

  @Test
  void trainsThatMeetOnADiamondCollide() {
    var bench = twoLinesThatCross();
    bench.run("Extra 41");
    bench.run("Second 7");
    bench.passMs(60_000);
    assertEquals(Kind.COLLISION, only(bench).kind());
    assertEquals("x", only(bench).section());
  }

  @Test
  void trainsThatCrossADiamondOneAfterTheOtherDoNot() {
    var bench = twoLinesThatCross();
    bench.run("Extra 41");
    bench.passMs(60_000);
    bench.run("Second 7");
    bench.passMs(60_000);
    assertEquals(List.of(), bench.railway.mishaps());
    assertEquals(List.of("east", "south"), bench.railway.occupied());
  }

  @Test
  void trainTrailingASwitchLinedAgainstItRunsThrough() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "siding", Heading.WEST, 0.5));
    bench.show("w2", "clear");
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(Kind.RUN_THROUGH, only(bench).kind());
    assertEquals("os", only(bench).section());
    assertEquals("Extra 41 ran through t, which lay normal", only(bench).account());
    assertEquals(Activity.WRECKED, bench.train("Extra 41").activity());
  }

  @Test
  void switchThatWasRunThroughIsPressedOverAndBroken() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "siding", Heading.WEST, 0.5));
    bench.show("w2", "clear");
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertTrue(bench.told().contains("t reverse"));
    bench.railway.lift("Extra 41");
    bench.call("t", Position.NORMAL);
    bench.passMs(10_000);
    assertEquals(Optional.of(Position.REVERSE), bench.railway.lies("t"));
    bench.railway.mendSwitch("t");
    bench.passMs(10_000);
    assertEquals(Optional.of(Position.NORMAL), bench.railway.lies("t"));
  }

  @Test
  void trainTrailingASwitchLinedForItDoesNot() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "siding", Heading.WEST, 0.5));
    bench.call("t", Position.REVERSE);
    bench.passMs(2_000);
    bench.show("w2", "clear");
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of(), bench.railway.mishaps());
    assertEquals(List.of("west"), bench.railway.occupied());
  }

  @Test
  void switchThrownUnderATrainDerailsIt() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.show("e", "clear");
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.railway.occupied().contains("os")));
    bench.call("t", Position.REVERSE);
    bench.passMs(40);
    assertEquals(Kind.DERAILMENT, only(bench).kind());
    assertEquals("t moved under Extra 41", only(bench).account());
    assertTrue(only(bench).atNs() > bench.nowNs() - 40 * Bench.MS);
  }

  @Test
  void trainThatComesToAMovingSwitchDerails() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.show("e", "clear");
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").metresToJoint() < 0.1));
    bench.call("t", Position.REVERSE);
    bench.passMs(2_000);
    assertEquals(Kind.DERAILMENT, only(bench).kind());
  }

  @Test
  void switchMayMoveWithATrainStandingClearOfItBeforeTheSignal() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(30_000);
    bench.call("t", Position.REVERSE);
    bench.passMs(2_000);
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void trainFoulingTheOtherLegIsStruck() {
    // It stands with its rear on the normal leg, near the points; the other comes by the reverse.
    var bench =
        Bench.ready(
            SmallPlan.junction().plan(),
            train("Extra 41", "main", Heading.EAST, 3.4),
            train("Second 7", "siding", Heading.WEST, 0.5));
    bench.railway.throwByHand("t", Position.REVERSE);
    bench.show("w2", "clear");
    bench.run("Second 7");
    bench.passMs(60_000);
    assertTrue(
        bench.railway.mishaps().stream().anyMatch(mishap -> mishap.kind() == Kind.COLLISION),
        () -> "" + bench.railway.mishaps());
  }

  @Test
  void trainWhoseRoadEndsSuddenlyRunsOffTheEnd() {
    // A stub of 0.01 m beyond the switch: too short to stop on for a train at speed.
    var plan =
        new SmallPlan()
            .joint("a", 0, 0)
            .joint("b", 10, 0)
            .joint("c", 11, 0)
            .joint("d", 11, 1)
            .joint("e", 21, 0)
            .section("s1", "a", "b", 3)
            .switchSection("os", 0.01)
            .section("s2", "c", "e", 3)
            .toe("t", "os", "b", "c", "d")
            .plan();
    var bench = Bench.ready(plan, train("Extra 41", "s1", Heading.EAST, 0.5));
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").metresToJoint() < 0.01));
    bench.railway.throwByHand("t", Position.REVERSE);
    bench.passMs(10_000);
    assertEquals(Kind.END_OF_TRACK, only(bench).kind());
  }

  @Test
  void wreckedTrainStaysUntilItIsLifted() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "siding", Heading.WEST, 0.5));
    bench.railway.obeySignals("Extra 41", false);
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(
        "train 'Extra 41' is wrecked; lift it and place it again",
        bench.run("Extra 41").orElseThrow());
    bench.railway.lift("Extra 41");
    assertEquals(List.of(), bench.railway.occupied());
    assertTrue(bench.railway.place(train("Extra 41", "siding", Heading.WEST, 0.5)).isEmpty());
    assertTrue(bench.run("Extra 41").isEmpty());
  }
}
