package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What an owner demands beside the rows; here of signal b2e, about the spur with its switch f. */
class OwnersNeedsTest {

  @ParameterizedTest(name = "{0} with the spur {1}, f {2}, route lined {3}")
  @CsvSource({
    "section spur is clear, clear, normal, '', true",
    "section spur is clear, occupied, normal, '', false",
    "section spur is clear, unknown, normal, '', false", // H.8
    "section spur is occupied, occupied, normal, '', true",
    "section spur is occupied, clear, normal, '', false",
    "section spur is occupied, unknown, normal, '', false", // nothing is proved by silence
    "section spur is unknown, unknown, normal, '', true",
    "section spur is unknown, clear, normal, '', false",
    "switch f is normal, clear, normal, '', true",
    "switch f is normal, clear, reverse, '', false",
    "switch f is normal, clear, moving, '', false",
    "not switch f is reverse, clear, normal, '', true",
    "not switch f is reverse, clear, reverse, '', false",
    "not switch f is reverse, clear, moving, '', false", // H.8: no position is not the other one
    "not section spur is occupied, clear, normal, '', true",
    "section spur is not occupied, clear, normal, '', true",
    "not section spur is occupied, unknown, normal, '', false", // H.8
    "not section spur is clear, occupied, normal, '', true",
    "not section spur is clear, unknown, normal, '', false",
    "section spur is not unknown, clear, normal, '', true",
    "section spur is not unknown, unknown, normal, '', false",
    "not not section spur is clear, clear, normal, '', true",
    "not (section spur is occupied or switch f is reverse), clear, normal, '', true",
    "not (section spur is occupied or switch f is reverse), unknown, normal, '', false",
    "not (section spur is occupied or switch f is reverse), clear, reverse, '', false",
    "not (section spur is occupied and switch f is reverse), occupied, normal, '', true",
    "not (section spur is occupied and switch f is reverse), occupied, reverse, '', false",
    "signal e2e is not stop, clear, normal, e2e to h, true",
    "signal e2e is not stop, clear, normal, '', false",
    "not route e2e-h is locked, clear, normal, '', true",
    "not route e2e-h is locked, clear, normal, e2e to h, false",
    "signal e2e is stop, clear, normal, '', true",
    "signal e2e is stop, clear, normal, e2e to h, false",
    "signal e2e is approach, clear, normal, e2e to h, true",
    "signal e2e is approach, clear, normal, '', false",
    "route e2e-h is locked, clear, normal, e2e to h, true",
    "route e2e-h is locked, clear, normal, '', false",
    "section spur is clear and switch f is normal, clear, normal, '', true",
    "section spur is clear and switch f is normal, clear, reverse, '', false",
    "section spur is clear or switch f is normal, occupied, normal, '', true",
    "section spur is clear or switch f is normal, occupied, reverse, '', false",
  })
  void needDecidesWhetherARouteIsLined(
      String need, String spur, String toe, String lined, boolean granted) {
    var desk = desk(need);
    if (!lined.isEmpty()) {
      desk.order("line " + lined);
    }
    switch (spur) {
      case "occupied" -> desk.occupy("spur");
      case "unknown" -> desk.unknown("spur");
      default -> desk.clear("spur");
    }
    switch (toe) {
      case "reverse" -> desk.lies("f", REVERSE);
      case "moving" -> desk.moving("f");
      default -> desk.lies("f", NORMAL);
    }
    assertEquals(granted, desk.tell("line b2e to d").granted());
    assertEquals(granted ? "approach" : "stop", desk.shows("b2e"));
  }

  // H.22: it counts for as long as the signal shows, and what has fallen stays so.
  @Test
  void needThatEndsPutsTheSignalToStopForGood() {
    var desk = desk("section spur is clear");
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
    desk.occupy("spur");
    assertEquals("stop", desk.shows("b2e"));
    assertTrue(desk.locked("b2e-d"));
    desk.clear("spur");
    desk.pass(60.0);
    assertEquals("stop", desk.shows("b2e"));
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
  }

  @Test
  void needThatIsNotMetIsTold() {
    var desk = desk("section spur is clear");
    desk.occupy("spur");
    var answer = desk.tell("line b2e to d");
    assertFalse(answer.granted());
    assertEquals(
        """
        route b2e-d cannot be lined:
          section spur is occupied
        """,
        answer.explanation().text());
  }

  private static Desk desk(String need) {
    return Desk.ready(
        Siding.LAYOUT,
        Siding.FLANK_RULES.replace(", flank: {f: normal}", "")
            + "also: [{signal: b2e, needs: %s}]\n".formatted(need));
  }

  // A switch that a need holds stays where it lies; a route that wants it there is lined as ever.
  @Test
  void switchMovesOnlyWhileItsNeedIsTrue() {
    var desk =
        Desk.ready(
            Throat.LAYOUT, Throat.RULES + "also: [{switch: s1, needs: section spur is clear}]\n");
    desk.order("throw s1 normal");
    desk.occupy("spur");
    var refused = desk.tell("throw s1 reverse");
    assertFalse(refused.granted());
    assertTrue(refused.explanation().text().contains("section spur is occupied"));
    desk.order("line a2e to z");
    assertEquals("approach", desk.shows("a2e"));
    desk.order("cancel a2e");
    desk.clear("spur");
    desk.pass(20.0);
    desk.order("throw s1 reverse");
  }

  @Test
  void lockIsReleasedOnlyWhileItsNeedIsTrue() {
    String rules =
        Desk.config("demo/rules.yaml")
            + "\nalso: [{lock: y1, needs: section yard-lead is clear}]\n";
    var desk = Desk.ready(Desk.config("demo/layout.yaml"), rules);
    desk.hears(new Input.DistrictReport("east", Optional.of(false)));
    desk.clear("yard-lead");
    desk.steady();
    desk.occupy("yard-lead");
    var refused = desk.tell("release y1");
    assertFalse(refused.granted());
    assertTrue(
        refused.explanation().text().contains("section yard-lead (Yard lead) is occupied"),
        refused.explanation()::text);
  }
}
