package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.TrackPlan;
import tappet.sentence.Condition.Occupancy;

/** What people wrote on the chart is there after a restart. Common practice, no source. */
class KeptChartTest {

  private static final KeptChart CHART =
      new KeptChart(
          List.of(
              new KeptChart.Train("Extra 41", List.of("tilling-w", "tilling-main"), false),
              new KeptChart.Train("Mill = Turn: #1", List.of("yard"), true)),
          List.of(new KeptChart.Seen("board west (West end) does not answer", 17, "Ann")),
          List.of(new KeptChart.Asked(3, "Extra 41", "line t2e to t4e", 18)),
          Map.of("quarry", "Extra 41"));

  private final TrainNames names =
      new TrainNames(
          new TrackPlan(Demo.layout()), toe -> Optional.empty(), section -> Optional.empty());

  @Test
  void textTellsTheSameChart() {
    assertEquals(CHART, ChartText.read(ChartText.of(CHART)));
    assertEquals(KeptChart.BLANK, ChartText.read(ChartText.of(KeptChart.BLANK)));
  }

  @Test
  void damagedTextIsNeverTakenForAChart() {
    String text = ChartText.of(CHART);
    assertThrows(
        IllegalArgumentException.class, () -> ChartText.read(text.replace("yard", "dray")));
    for (int length = 0; length < text.length() - 1; length += 7) {
      String part = text.substring(0, length);
      assertThrows(IllegalArgumentException.class, () -> ChartText.read(part));
    }
  }

  @Test
  void nameStaysWhereItsSectionIsOccupiedOrUnknown() {
    names.restore("Extra 41", List.of("tilling-main"), false);
    follow("tilling-main", Occupancy.UNKNOWN);
    assertEquals(List.of(named(false)), names.all());
    follow("tilling-main", Occupancy.OCCUPIED);
    assertEquals(List.of(named(false)), names.all());
  }

  @Test
  void nameIsLostWhereItsSectionIsClear() {
    names.restore("Extra 41", List.of("tilling-main"), false);
    follow("tilling-main", Occupancy.CLEAR);
    assertEquals(List.of(named(true)), names.all());
  }

  // What stands beside it when the field is first heard has not just come from there.
  @Test
  void nameDoesNotRunIntoWhatIsFoundBesideIt() {
    names.restore("Extra 41", List.of("west-main"), false);
    Map<String, Occupancy> unknown = new HashMap<>();
    Demo.layout().sections().keySet().forEach(id -> unknown.put(id, Occupancy.UNKNOWN));
    names.follow(unknown);
    for (String section : Demo.layout().sections().keySet()) {
      follow(section, Occupancy.OCCUPIED);
    }
    assertEquals(List.of("west-main"), names.all().get(0).on());
  }

  @Test
  void acknowledgedAlarmThatComesAgainSoonNeedNotBeSeenAgain() {
    SeenAlarms alarms = new SeenAlarms();
    SeenAlarms.Seen seen = new SeenAlarms.Seen(5, Optional.of("Ann"));
    alarms.restore("soon", seen, 1_000);
    alarms.restore("late", seen, 1_000);
    assertEquals(2, alarms.acknowledged().size());
    alarms.follow(List.of("soon"), 2_000);
    assertEquals(seen, alarms.all().get("soon"));
    alarms.follow(List.of("soon", "late"), 1_001 + SeenAlarms.SAME_MS);
    assertTrue(alarms.all().get("late").seenBy().isEmpty());
  }

  @Test
  void numbersOfWhatCrewsAskGoOn() {
    Asks asks = new Asks();
    asks.restore(3, new Asks.Ask("Extra 41", "line t2e to t4e", 18));
    asks.add(new Asks.Ask("Extra 57", "line t4e to m2e", 19));
    assertEquals(List.of("3", "4"), List.copyOf(asks.all().keySet()));
  }

  private void follow(String section, Occupancy occupancy) {
    names.follow(Map.of(section, occupancy));
  }

  private static TrainNames.Named named(boolean lost) {
    return new TrainNames.Named("Extra 41", List.of("tilling-main"), lost);
  }
}
