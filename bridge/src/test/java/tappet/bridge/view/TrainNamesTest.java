package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.sentence.Condition.Occupancy;

/** Names follow trains over the demo's track. */
class TrainNamesTest {

  private final Map<String, Position> lies = new HashMap<>();
  private final Map<String, String> before = new HashMap<>();
  private final Map<String, Occupancy> known = new HashMap<>();
  private TrainNames names;

  @BeforeEach
  void everythingIsClear() {
    var layout = Demo.layout();
    names =
        new TrainNames(
            new TrackPlan(layout),
            toe -> Optional.ofNullable(lies.get(toe)),
            section -> Optional.ofNullable(before.get(section)));
    layout.sections().keySet().forEach(section -> known.put(section, Occupancy.CLEAR));
    layout.switches().keySet().forEach(toe -> lies.put(toe, Position.NORMAL));
    names.follow(known);
  }

  private void is(String section, Occupancy occupancy) {
    known.put(section, occupancy);
    names.follow(Map.of(section, occupancy));
  }

  private void occupied(String section) {
    is(section, Occupancy.OCCUPIED);
  }

  private void clear(String section) {
    is(section, Occupancy.CLEAR);
  }

  private List<String> on(String train) {
    return names.all().stream()
        .filter(named -> named.train().equals(train))
        .findFirst()
        .orElseThrow()
        .on();
  }

  private boolean lost(String train) {
    return names.all().stream().anyMatch(named -> named.train().equals(train) && named.lost());
  }

  @Test
  void nameRunsWithItsTrainOverTheLegThatLies() {
    occupied("west-main");
    names.put("Extra 41", "west-main");
    lies.put("t1", Position.REVERSE);
    occupied("tilling-w");
    assertEquals(List.of("west-main", "tilling-w"), on("Extra 41"));
    occupied("tilling-main");
    assertEquals(List.of("west-main", "tilling-w"), on("Extra 41"), "the switch lies elsewhere");
    occupied("tilling-siding");
    clear("west-main");
    clear("tilling-w");
    assertEquals(List.of("tilling-siding"), on("Extra 41"));
  }

  @Test
  void ofTwoTrainsTheOneEntersThatTheRouteLeads() {
    occupied("west-main");
    occupied("tilling-main");
    names.put("Extra 41", "west-main");
    names.put("Mail", "tilling-main");
    before.put("tilling-w", "tilling-main");
    occupied("tilling-w");
    assertEquals(List.of("tilling-main", "tilling-w"), on("Mail"));
    assertEquals(List.of("west-main"), on("Extra 41"));
  }

  @Test
  void whereNobodyKnowsWhichOfTwoItIsNeitherNameMoves() {
    occupied("west-main");
    occupied("tilling-main");
    names.put("Extra 41", "west-main");
    names.put("Mail", "tilling-main");
    occupied("tilling-w");
    assertEquals(List.of("west-main"), on("Extra 41"));
    assertEquals(List.of("tilling-main"), on("Mail"));
  }

  @Test
  void aNameWhoseTrainIsNotSeenIsLostAndFoundAgain() {
    occupied("west-main");
    names.put("Extra 41", "west-main");
    clear("west-main");
    assertTrue(lost("Extra 41"));
    assertEquals(List.of("west-main"), on("Extra 41"), "where it was last");
    occupied("tilling-w");
    assertEquals(List.of("tilling-w"), on("Extra 41"));
    assertTrue(!lost("Extra 41"));
  }

  @Test
  void unknownTakesNoNameAway() {
    occupied("west-main");
    names.put("Extra 41", "west-main");
    is("west-main", Occupancy.UNKNOWN);
    assertEquals(List.of("west-main"), on("Extra 41"));
    assertTrue(!lost("Extra 41"));
    occupied("west-main");
    assertEquals(List.of("west-main"), on("Extra 41"));
  }
}
