package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.source.Place;
import tappet.source.Problems;

/** Crossings at grade, read and as part of the track plan. */
class DiamondTest {

  private final Problems problems = new Problems();
  private final Layout layout = LayoutReader.read("f", CrossedLayout.TEXT, problems).orElseThrow();
  private final TrackPlan plan = new TrackPlan(layout);

  @Test
  void everythingWrittenIsInTheLayout() {
    assertEquals(List.of(), problems.sorted());
    assertEquals(
        Map.of(
            "x1",
            new Diamond(
                "x1",
                "Mill crossing",
                "x",
                List.of(List.of("b", "c"), List.of("f", "e")),
                new Place("f", 11, 3))),
        layout.diamonds());
  }

  // A train cannot turn from one course to the other (Abrial, Modeling in Event-B, ch. 17, K).
  @ParameterizedTest(name = "from {0} at {1} one runs on to {2}")
  @CsvSource({
    "west, b, c, east",
    "east, c, b, west",
    "north, e, f, south",
    "south, f, e, north",
  })
  void trainRunsStraightOver(String from, String at, String beyond, String onTo) {
    var arrival = plan.into(at, from).get(0);
    var over = plan.onwards(arrival, at);
    assertEquals(1, over.size());
    assertEquals("x", over.get(0).section());
    assertEquals(beyond, over.get(0).otherEnd(at));
    assertEquals(
        List.of(onTo), plan.onwards(over.get(0), beyond).stream().map(Track::section).toList());
  }

  @Test
  void eachTrackKnowsTheOneThatCrossesIt() {
    var eastward = plan.into("b", "x").get(0);
    var southward = plan.into("e", "x").get(0);
    assertEquals(Optional.of(southward), plan.crossing(eastward));
    assertEquals(Optional.of(eastward), plan.crossing(southward));
    assertEquals(Optional.empty(), plan.crossing(plan.into("a", "west").get(0)));
  }
}
