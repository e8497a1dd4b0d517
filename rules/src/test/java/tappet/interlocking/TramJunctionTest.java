package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Tram junction (F. Zeyda, J. Ouy, S. Foster, A. Cavalcanti, Formalised Cosimulation Models, SEFM
 * 2017): its relay equations are safe only for trains that fit in one section (H.3, H.20).
 */
class TramJunctionTest {

  private static PublishedExample junction;

  @BeforeAll
  static void read() {
    junction = PublishedExample.named(PublishedExample.TRAM_JUNCTION);
  }

  /** The published equations, run in the published order: set, clear, switches. */
  private static final class Relays {

    private static final List<String> SET_ORDER = List.of("R1", "R2", "R4", "R3", "R5");

    private final JsonNode equations = junction.data.get("equations");
    private final Set<String> relays = new HashSet<>();
    private final Map<String, String> switches = new HashMap<>();

    void cycle(String request, Set<String> occupied) {
      for (String relay : SET_ORDER) {
        if (holds(equations.get("set").get(relay).asText(), request, occupied)) {
          relays.add(relay);
        }
      }
      equations
          .get("clear")
          .properties()
          .forEach(
              clear -> {
                if (holds(clear.getValue().asText(), request, occupied)) {
                  relays.remove(clear.getKey());
                }
              });
      equations
          .get("switches")
          .properties()
          .forEach(toe -> switches.put(toe.getKey(), position(toe.getValue().asText())));
    }

    /** {@code S if R3|R5 else D}, or one position for ever. */
    private String position(String equation) {
      String[] words = equation.split(" ", -1);
      return words.length == 1 ? words[0] : holds(words[2], "", Set.of()) ? words[0] : words[4];
    }

    private boolean holds(String equation, String request, Set<String> occupied) {
      return Arrays.stream(equation.split("\\|", -1))
          .anyMatch(
              way ->
                  Arrays.stream(way.split("&", -1))
                      .map(String::strip)
                      .allMatch(part -> isTrue(part, request, occupied)));
    }

    private boolean isTrue(String part, String request, Set<String> occupied) {
      if (part.startsWith("!")) {
        return !isTrue(part.substring(1), request, occupied);
      }
      if (part.startsWith("CDV")) {
        return !occupied.contains(part.substring(3));
      }
      return part.startsWith("TC") ? part.equals(request) : relays.contains(part);
    }
  }

  @Test
  void publishedEquationsMoveASwitchUnderTheTail() {
    Relays relays = new Relays();
    relays.cycle("TC4", Set.of("3"));
    assertEquals(Set.of("R1"), relays.relays);
    relays.cycle("", Set.of("3", "4"));
    assertEquals("S", relays.switches.get("SW3"));
    relays.cycle("", Set.of("4", "5"));
    assertEquals("D", relays.switches.get("SW3"), "moved with the tail in 4");
  }

  @Test
  void publishedEquationsAreSafeForATrainWithinOneSection() {
    Relays relays = new Relays();
    relays.cycle("TC4", Set.of("3"));
    relays.cycle("", Set.of("4"));
    assertEquals("S", relays.switches.get("SW3"));
    relays.cycle("", Set.of("5"));
    assertEquals("D", relays.switches.get("SW3"));
  }

  // H.3, 49 CFR 236.767: release on clearing in order, never on occupation.
  @Test
  void trainLongerThanASectionKeepsItsSwitchesHere() {
    Desk desk = Desk.ready(new Desk.Railroad(junction.layout, junction.table));
    desk.occupy("3");
    desk.line(junction.row("V1Q1"));
    desk.movements();
    desk.occupy("4");
    desk.pass(5.0);
    desk.occupy("5");
    desk.pass(60.0);
    assertEquals(List.of(), desk.movements());
    assertTrue(desk.holds("SW1"));
    assertTrue(desk.holds("SW3"));
    assertFalse(desk.tell("line S3 to Q2").granted());

    desk.clear("3");
    desk.clear("4");
    desk.steady();
    assertFalse(desk.holds("SW3"));
    assertTrue(desk.tell("line S3 to Q2").granted());
  }

  // The published relay exclusions are our conflicts: the fault is in the release alone.
  @Test
  void publishedRelayExclusionsAreTheConflicts() {
    Map<String, String> routeOf =
        junction.routes().stream()
            .collect(
                Collectors.toMap(route -> "R" + route.get("relay").asText(), PublishedExample::id));
    Set<Set<String>> exclusions = new LinkedHashSet<>();
    for (Set<String> pair :
        PublishedExample.pairsUnder(junction.data.get("published_relay_exclusions"))) {
      exclusions.add(pair.stream().map(routeOf::get).collect(Collectors.toSet()));
    }
    assertEquals(junction.publishedConflicts(), exclusions);
  }
}
