package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.lcc.EventId;
import tappet.sentence.Command.Heading;
import tappet.source.Problems;

/** Breakers, openings, lamps, buttons, spots and grade crossings of the simulated railway. */
class LinesideGearTest {

  private static final String LAYOUT =
      """
      layout: 1
      name: Two sections
      joints: {a: [0, 0], b: [3, 0], c: [6, 0]}
      sections:
        west: {district: all, between: [a, b], length: 2 m, occupied: 0A.57.00.00.31.00.11.01, clear: 0A.57.00.00.31.00.11.00}
        east: {between: [b, c], length: 2 m, occupied: 0A.57.00.00.31.00.12.01, clear: 0A.57.00.00.31.00.12.00}
      districts:
        all: {tripped: 0A.57.00.00.31.00.51.01, restored: 0A.57.00.00.31.00.51.00}
      openings:
        gap:
          sections: [east]
          closed: 0A.57.00.00.31.00.61.01
          open: 0A.57.00.00.31.00.61.00
          locked: 0A.57.00.00.31.00.62.01
          unlocked: 0A.57.00.00.31.00.62.00
          to: {lock: 0A.57.00.00.31.00.63.01, unlock: 0A.57.00.00.31.00.63.00}
      lamps:
        red: {lit: 0A.57.00.00.31.00.71.01, dark: 0A.57.00.00.31.00.71.00}
      buttons:
        call: {pressed: 0A.57.00.00.31.00.81.01, released: 0A.57.00.00.31.00.81.00}
      spots:
        both: {at: b, passed: 0A.57.00.00.31.00.91.01}
        each: {at: b, east: 0A.57.00.00.31.00.92.01, west: 0A.57.00.00.31.00.92.00}
      grade crossings:
        road: {island: west, warn: 0A.57.00.00.31.00.A1.01, rest: 0A.57.00.00.31.00.A1.00}
      """;

  @Test
  void boltTakesItsTimeAndTellsWhenItHasArrived() {
    var bench = Bench.ready(plan());
    bench.report(event("63.00"));
    assertEquals(Optional.empty(), bench.railway.boltLies("gap"));
    assertEquals("INVALID", bench.producerSays(event("62.01")));
    bench.passMs(Railway.THROW_TIME.toMillis() - 1);
    assertEquals(List.of(), bench.told());
    bench.passMs(1);
    assertEquals(List.of(event("62.00").toString()), bench.told());
    assertEquals(Optional.of(Position.REVERSE), bench.railway.boltLies("gap"));
    assertEquals("VALID", bench.producerSays(event("62.00")));
  }

  @Test
  void boltThatFailsStaysWhereItIs() {
    var bench = Bench.ready(plan());
    bench.railway.failBolt("gap");
    bench.report(event("63.00"));
    bench.passMs(10_000);
    assertEquals(Optional.of(Position.NORMAL), bench.railway.boltLies("gap"));
    bench.railway.mendBolt("gap");
    bench.passMs(10_000);
    assertEquals(Optional.of(Position.REVERSE), bench.railway.boltLies("gap"));
  }

  @Test
  void trainThatRunsIntoAnOpenGapComesToGrief() {
    var bench = Bench.ready(plan(), Bench.train("T", "west", Heading.EAST, 0.5));
    bench.railway.open("gap");
    assertEquals(List.of(event("61.00").toString()), bench.told());
    bench.run("T");
    assertTrue(bench.passUntil(() -> !bench.railway.mishaps().isEmpty()));
    assertEquals(Mishap.Kind.END_OF_TRACK, bench.railway.mishaps().get(0).kind());
  }

  @Test
  void spotTellsOfATrainOnceWhenItsFrontComes() {
    var bench = Bench.ready(plan(), Bench.train("T", "west", Heading.EAST, 0.5));
    bench.run("T");
    assertTrue(bench.passUntil(() -> bench.railway.occupied().contains("east")));
    bench.passMs(1000);
    var told = bench.told();
    assertEquals(1, told.stream().filter(event("91.01").toString()::equals).count());
    assertEquals(1, told.stream().filter(event("92.01").toString()::equals).count());
    assertFalse(told.contains(event("92.00").toString()));
  }

  @Test
  void breakerThatTripsStopsItsTrainsAndBlindsItsDetectors() {
    var bench = Bench.ready(plan(), Bench.train("T", "west", Heading.EAST, 0.5));
    bench.run("T");
    bench.passMs(1000);
    bench.told();
    bench.railway.tripBreaker("all");
    assertEquals(List.of(event("51.01").toString(), "west clear"), bench.told());
    assertEquals("VALID", bench.producerSays(event("51.01")));
    bench.passMs(1000);
    assertEquals(0.0, bench.train("T").speedMetresPerSecond());
    bench.told();
    bench.railway.restoreBreaker("all");
    assertEquals(List.of(event("51.00").toString(), "west occupied"), bench.told());
    bench.passMs(1000);
    assertTrue(bench.train("T").speedMetresPerSecond() > 0);
  }

  @Test
  void lampsAndCrossingsObeyAndTellWhatTheyWereTold() {
    var bench = Bench.ready(plan());
    assertTrue(bench.railway.isWarning("road"));
    bench.report(event("A1.00"));
    bench.report(event("71.01"));
    assertFalse(bench.railway.isWarning("road"));
    assertTrue(bench.railway.isLit("red"));
    assertEquals("VALID", bench.consumerSays(event("A1.00")));
    assertEquals("INVALID", bench.consumerSays(event("71.00")));
  }

  @Test
  void buttonTellsWhenItIsPressedAndReleased() {
    var bench = Bench.ready(plan());
    bench.railway.press("call");
    bench.railway.press("call");
    bench.railway.release("call");
    assertEquals(List.of(event("81.01").toString(), event("81.00").toString()), bench.told());
    assertEquals("VALID", bench.producerSays(event("81.00")));
  }

  private static EventId event(String end) {
    return EventId.of("0A.57.00.00.31.00." + end);
  }

  private static TrackPlan plan() {
    var problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", LAYOUT, problems);
    assertEquals(List.of(), problems.sorted());
    return new TrackPlan(layout.orElseThrow());
  }
}
