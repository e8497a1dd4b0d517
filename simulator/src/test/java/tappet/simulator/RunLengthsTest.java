package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/** What a section's length means is said at {@link tappet.layout.Section}. */
class RunLengthsTest {

  private static final double EXACT = 1e-12;

  /**
   *
   *
   * <pre>
   *   a -- points1 -- points2 -- points3 -- d4
   *             '- d1      '- d2      '- d3
   * </pre>
   */
  private static final TrackPlan LADDER =
      new SmallPlan()
          .joint("a", 0, 0)
          .joint("p1", 1, 0)
          .joint("p2", 2, 0)
          .joint("p3", 3, 0)
          .joint("d1", 4, 4)
          .joint("d2", 4, 3)
          .joint("d3", 4, 2)
          .joint("d4", 4, 1)
          .section("lead", "a", "p1", 2.2)
          .switchSection("ladder", 1.8)
          .toe("y1", "ladder", "p1", "p2", "d1")
          .toe("y2", "ladder", "p2", "p3", "d2")
          .toe("y3", "ladder", "p3", "d4", "d3")
          .plan();

  @ParameterizedTest(name = "{0}")
  @CsvSource({
    "lead,        a p1,        2.2",
    "first leg,   p1 d1,       1.8",
    "second leg,  p1 p2 d2,    1.8",
    "third leg,   p1 p2 p3 d3, 1.8",
    "whole,       p1 p2 p3 d4, 1.8",
    "other way,   d3 p3 p2 p1, 1.8",
    "one of three, p1 p2,      0.6",
    "two of three, p2 p3 d3,   1.2",
  })
  void everyWayThroughASectionHasTheLengthOfTheLayout(String way, String joints, double metres) {
    assertEquals(metres, lengthOf(joints.split(" ")), EXACT);
  }

  private static double lengthOf(String... joints) {
    var lengths = new RunLengths(LADDER);
    double metres = 0;
    for (int i = 1; i < joints.length; i++) {
      metres += lengths.of(track(joints[i - 1], joints[i]));
    }
    return metres;
  }

  private static Track track(String one, String other) {
    return LADDER.tracksAt(one).stream()
        .filter(track -> track.otherEnd(one).equals(other))
        .findFirst()
        .orElseThrow();
  }
}
