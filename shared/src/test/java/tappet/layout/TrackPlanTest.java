package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.source.Problems;

/** The plain Ambrose Valley Line as a graph; expectations read off its drawing. */
class TrackPlanTest {

  private static TrackPlan plan;

  @BeforeAll
  static void readDemo() throws IOException {
    var text = Files.readString(Path.of("src", "test", "resources", "plain", "layout.yaml"));
    plan = new TrackPlan(LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow());
  }

  @ParameterizedTest(name = "from {0} over {1} one comes to {2}")
  @CsvSource({
    "j3, west-main j3-j4, t1 normal j4-j5; t1 reverse j4-j6, j4",
    "j4, t1 normal j4-j5, tilling-main j5-j7, j5",
    "j5, t1 normal j4-j5, west-main j3-j4, j4",
    "j6, t1 reverse j4-j6, west-main j3-j4, j4",
    "j11, c1 normal j11-k1, c2 normal k1-j13; c2 reverse k1-j14, k1",
    "j13, c2 normal k1-j13, c1 normal j11-k1, k1",
    "j13, corvane-main j13-corvane-end, '', corvane-end",
  })
  void trainRunsOnToWhatLiesBeyond(String from, String arrival, String onwards, String joint) {
    var over = track(from, arrival);
    assertEquals(joint, over.otherEnd(from));
    assertEquals(onwards, told(plan.onwards(over, joint)));
  }

  // 'never turn from one leg into the other': the legs share a side of the points only.
  @Test
  void legsShareASideAtThePointsAndNowhereElse() {
    var normal = track("j4", "t1 normal j4-j5");
    var reverse = track("j4", "t1 reverse j4-j6");
    assertEquals(true, TrackPlan.sameSide(normal, reverse, "j4"));
    assertEquals(false, TrackPlan.sameSide(normal, reverse, "j5"));
  }

  @Test
  void jointHasOneSideAtTheEndOfTrackAndElseTwo() {
    for (String joint : plan.layout().joints().keySet()) {
      boolean end = Stream.of("-end", "yard-").anyMatch(joint::contains);
      assertEquals(end ? 1 : 2, plan.sides(joint).size(), joint);
    }
  }

  @Test
  void sectionIsEnteredOverEveryTrackItHasThere() {
    assertEquals("t1 normal j4-j5; t1 reverse j4-j6", told(plan.into("j4", "tilling-w")));
    assertEquals("west-main j3-j4", told(plan.into("j4", "west-main")));
    assertEquals("", told(plan.into("j4", "mid-west")));
    assertEquals("", told(plan.into("nowhere", "mid-west")));
  }

  private static Track track(String joint, String told) {
    return plan.tracksAt(joint).stream()
        .filter(track -> Objects.equals(told(track), told))
        .findFirst()
        .orElseThrow();
  }

  private static String told(List<Track> tracks) {
    return tracks.stream().map(TrackPlanTest::told).collect(Collectors.joining("; "));
  }

  private static String told(Track track) {
    var way = track.leg().map(leg -> leg.switchId() + " " + leg.position().word());
    return way.orElse(track.section()) + " " + track.from() + "-" + track.to();
  }
}
