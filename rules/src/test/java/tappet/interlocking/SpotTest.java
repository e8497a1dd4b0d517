package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.sentence.Command.Heading;

/** Spot detectors announce trains (common practice, no source). */
class SpotTest {

  private static final String SPOTS =
      """
      spots:
        gauge: {name: Loading gauge, at: c, passed: 0A.00.00.00.00.01.91.01}
        bell: {at: e, east: 0A.00.00.00.00.01.92.01, west: 0A.00.00.00.00.01.92.00}
        end: {at: a, passed: 0A.00.00.00.00.01.93.01}
      """;

  @Test
  void directionIsThatOfTheSectionOccupiedFirst() {
    var desk = ready();
    desk.occupy("west-near");
    desk.occupy("road");
    assertEquals(List.of("a train passes spot gauge (Loading gauge) eastward"), passes(desk));
    desk.clear("west-near");
    desk.steady();
    desk.occupy("east-near");
    desk.clear("road");
    desk.steady();
    desk.occupy("road");
    desk.clear("east-near");
    desk.steady();
    desk.occupy("west-near");
    assertEquals(List.of("a train passes spot gauge (Loading gauge) westward"), passes(desk));
  }

  @Test
  void trainThatTurnsBackIsAnnouncedTheOtherWay() {
    var desk = ready();
    desk.runs("west-near", "road");
    passes(desk);
    desk.occupy("west-near");
    assertEquals(List.of("a train passes spot gauge (Loading gauge) westward"), passes(desk));
  }

  // H.8: nothing is made up where the order is not known.
  @Test
  void directionIsLeftOutWhereItIsNotKnown() {
    var desk = ready();
    assertEquals(List.of("a train passes spot gauge (Loading gauge)"), passes(desk));
    desk.unknown("road");
    desk.occupy("west-near");
    assertEquals(List.of("a train passes spot gauge (Loading gauge)"), passes(desk));
  }

  @Test
  void detectorThatKnowsTheDirectionIsTakenAtItsWord() {
    var desk = ready();
    desk.changes();
    desk.hears(new Input.SpotReport("bell", Optional.of(Heading.WEST)));
    assertEquals(List.of("a train passes spot bell westward"), desk.changes());
    desk.hears(new Input.SpotReport("bell", Optional.of(Heading.EAST)));
    assertEquals(List.of("a train passes spot bell eastward"), desk.changes());
  }

  @Test
  void everyPassingIsAnnounced() {
    var desk = ready();
    assertEquals(1, passes(desk).size());
    assertEquals(1, passes(desk).size());
  }

  @Test
  void spotAtTheEndOfTrackTellsNoDirection() {
    var desk = ready();
    desk.occupy("west-far");
    desk.changes();
    desk.hears(new Input.SpotReport("end", Optional.empty()));
    assertEquals(List.of("a train passes spot end"), desk.changes());
  }

  private static Desk ready() {
    return Desk.ready(Lane.with(SPOTS, ""));
  }

  private static List<String> passes(Desk desk) {
    desk.changes();
    desk.hears(new Input.SpotReport("gauge", Optional.empty()));
    return desk.changes();
  }
}
