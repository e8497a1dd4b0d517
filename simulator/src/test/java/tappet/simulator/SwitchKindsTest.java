package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.lcc.EventId;
import tappet.sentence.Command.Heading;
import tappet.simulator.Mishap.Kind;
import tappet.source.Problems;

/** Locks, springs, rods and derails, as they behave on the track. */
class SwitchKindsTest {

  /** West to east: west, switch t with its leg to the side, then the end. */
  private static final String PLAN =
      """
      layout: 1
      name: Bench
      joints: {w: [0, 1], a: [2, 1], b: [4, 1], c: [4, 0], e: [8, 1], f: [8, 0]}
      sections:
        west: {between: [w, a], length: 3 m, occupied: 0A.00.00.00.00.03.11.01, clear: 0A.00.00.00.00.03.11.00}
        os: {length: 60 cm, occupied: 0A.00.00.00.00.03.12.01, clear: 0A.00.00.00.00.03.12.00}
        main: {between: [b, e], length: 3 m, occupied: 0A.00.00.00.00.03.13.01, clear: 0A.00.00.00.00.03.13.00}
        side: {between: [c, f], length: 3 m, occupied: 0A.00.00.00.00.03.14.01, clear: 0A.00.00.00.00.03.14.00}
      switches:
        t: {section: os, points: a, normal: b, reverse: c, at: {normal: 0A.00.00.00.00.03.31.00, reverse: 0A.00.00.00.00.03.31.01}, %s}
      """;

  private static final String LOCKED =
      """
      control: released, lock: {to: {release: 0A.00.00.00.00.03.41.00, secure: 0A.00.00.00.00.03.41.01}, \
      at: {released: 0A.00.00.00.00.03.42.00, secured: 0A.00.00.00.00.03.42.01}}""";

  private static final String MOTOR =
      "to: {normal: 0A.00.00.00.00.03.21.00, reverse: 0A.00.00.00.00.03.21.01}";

  @Test
  void crewThrowsASwitchOnlyWhenItsLockLetsIt() {
    Layout layout = layout(LOCKED, "");
    var bench = Bench.ready(new TrackPlan(layout));
    assertEquals(
        Optional.of("t is held by its lock"), bench.railway.throwByCrew("t", Position.REVERSE));
    var lock = layout.switches().get("t").lock().orElseThrow();
    bench.report(lock.to().get(LockState.RELEASED));
    bench.passMs(499);
    assertTrue(bench.railway.isSecured("t"));
    bench.passMs(1);
    assertFalse(bench.railway.isSecured("t"));
    assertEquals("VALID", bench.producerSays(lock.at().get(LockState.RELEASED)));
    assertEquals(Optional.empty(), bench.railway.throwByCrew("t", Position.REVERSE));
    assertEquals(List.of("t reverse"), bench.told());
    bench.report(lock.to().get(LockState.SECURED));
    bench.passMs(500);
    assertTrue(bench.railway.isSecured("t"));
    bench.railway.breakLock("t");
    assertEquals("INVALID", bench.producerSays(lock.at().get(LockState.SECURED)));
  }

  // 49 CFR 236.12-13: trailing through is allowed; the spring closes the switch behind the train.
  @Test
  void trainTrailsThroughASprungSwitchAndTheSpringClosesIt() {
    var bench =
        Bench.ready(
            new TrackPlan(layout("control: sprung", "")),
            Bench.train("Extra 41", "side", Heading.WEST, 0.5));
    bench.run("Extra 41");
    assertTrue(
        bench.passUntil(() -> bench.railway.lies("t").equals(Optional.of(Position.REVERSE))));
    assertTrue(bench.passUntil(() -> bench.railway.lies("t").isEmpty()), "the spring moves");
    bench.passMs(Railway.THROW_TIME.toMillis());
    assertEquals(Optional.of(Position.NORMAL), bench.railway.lies("t"));
    assertTrue(bench.passUntil(() -> bench.railway.occupied().equals(List.of("west"))));
    assertEquals(List.of(), bench.railway.mishaps());
  }

  // A switch that is not sprung is run through by the same train.
  @Test
  void sameTrainRunsThroughASwitchThatIsNotSprung() {
    var bench =
        Bench.ready(
            new TrackPlan(layout("control: hand", "")),
            Bench.train("Extra 41", "side", Heading.WEST, 0.5));
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> !bench.railway.mishaps().isEmpty()));
    assertEquals(Kind.RUN_THROUGH, bench.railway.mishaps().get(0).kind());
  }

  @Test
  void endsOfACrossoverMoveTogether() {
    Layout layout = layout(MOTOR, derail("with: t"));
    var bench = Bench.ready(new TrackPlan(layout));
    bench.call("t", Position.REVERSE);
    bench.passMs(Railway.THROW_TIME.toMillis());
    assertEquals(List.of("t reverse", "d reverse"), bench.told());
  }

  @Test
  void localControlTellsWhatItAsksFor() {
    Layout layout =
        layout(
            MOTOR
                + ", control: local, asks: {normal: 0A.00.00.00.00.03.51.00, reverse: 0A.00.00.00.00.03.51.01}",
            "");
    var bench = Bench.ready(new TrackPlan(layout));
    bench.railway.askAtControl("t", Position.REVERSE);
    assertEquals(List.of(EventId.of("0A.00.00.00.00.03.51.01").toString()), bench.told());
  }

  @Test
  void engineerStopsBeforeADerailAndRunsOverItWhenItLetsTrainsPass() {
    Layout layout = layout("control: hand", derail("control: hand"));
    var bench =
        Bench.ready(new TrackPlan(layout), Bench.train("Extra 41", "siding", Heading.WEST, 0.3));
    bench.railway.throwByHand("t", Position.REVERSE);
    bench.run("Extra 41");
    bench.passUntil(() -> false);
    assertEquals(List.of(), bench.railway.mishaps());
    assertEquals(List.of("siding"), bench.railway.occupied());
    bench.railway.throwByCrew("d", Position.REVERSE);
    assertTrue(bench.passUntil(() -> bench.railway.occupied().equals(List.of("west"))));
    assertEquals(List.of(), bench.railway.mishaps());
  }

  // 49 CFR 236.205: thrown in the face of a train that can no longer stop, as for a runaway.
  @Test
  void trainThatCannotStopBeforeADerailIsDerailed() {
    int stepsToTheDerail = 0;
    for (var bench = rolling(); !bench.railway.occupied().contains("side"); bench.passMs(20)) {
      stepsToTheDerail++;
    }
    var bench = rolling();
    bench.passMs(20L * stepsToTheDerail - 100);
    bench.railway.throwByHand("d", Position.NORMAL);
    assertTrue(bench.passUntil(() -> !bench.railway.mishaps().isEmpty()));
    var mishap = bench.railway.mishaps().get(0);
    assertEquals(Kind.DERAILMENT, mishap.kind());
    assertEquals("Runaway was derailed by d", mishap.account());
  }

  /** A train on its way over a derail that lets it pass. */
  private static Bench rolling() {
    var bench =
        Bench.ready(
            new TrackPlan(layout("control: hand", derail("control: hand"))),
            Bench.train("Runaway", "siding", Heading.WEST, 0.3));
    bench.railway.throwByHand("t", Position.REVERSE);
    bench.railway.throwByHand("d", Position.REVERSE);
    bench.run("Runaway");
    return bench;
  }

  /** A derail d in the side track, which then leads on to a siding. */
  private static String derail(String working) {
    return """
    derails:
      d: {section: side, points: f, through: c, at: {normal: 0A.00.00.00.00.03.32.00, reverse: 0A.00.00.00.00.03.32.01}, %s}
    """
        .formatted(working);
  }

  private static Layout layout(String working, String derails) {
    String text = PLAN.formatted(working) + derails;
    if (!derails.isEmpty()) {
      text =
          text.replace("f: [8, 0]}", "f: [8, 0], g: [12, 0]}")
              .replace("side: {between: [c, f], ", "side: {")
              .replace(
                  "switches:",
                  "  siding: {between: [f, g], length: 3 m, occupied: 0A.00.00.00.00.03.15.01, clear: 0A.00.00.00.00.03.15.00}\nswitches:");
    }
    var problems = new Problems();
    var layout = LayoutReader.read("bench.yaml", text, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }
}
