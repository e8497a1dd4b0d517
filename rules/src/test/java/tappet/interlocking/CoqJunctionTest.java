package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.interlocking.PublishedExample.id;
import static tappet.interlocking.PublishedExample.list;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/**
 * Coq Junction (A. Iliasov and the SafeCap group, sample interlocking data, 2023): the request
 * blocks as published test points only and name sub-routes that do not exist. Ours must not have
 * either fault.
 */
class CoqJunctionTest {

  private static final Pattern SUB_ROUTE = Pattern.compile("U\\w\\w-\\w\\w");

  private static PublishedExample junction;

  @BeforeAll
  static void read() {
    junction = PublishedExample.named(PublishedExample.COQ_JUNCTION);
  }

  /** What requests alone have brought about: routes set and how the points are commanded. */
  private record State(Set<String> set, Map<String, String> points) {}

  // H.1: points alone do not keep these apart, in their own network too; in ours each pair is.
  @Test
  void pairsThatThePublishedRequestsSetTogetherAreRefusedHere() {
    Set<State> states = reachable();
    JsonNode oracle = junction.data.get("oracle").get("as_published");
    assertEquals(oracle.get("states").asInt(), states.size());

    Set<Set<String>> together = conflictingPairsSetTogether(states);
    Set<Set<String>> published =
        list(oracle.get("conflicting_pairs_that_can_both_be_set")).stream()
            .map(pair -> Set.of(pair.get(0).asText(), pair.get(1).asText()))
            .collect(Collectors.toSet());
    assertEquals(9, together.size());
    assertEquals(published, together);
    for (Set<String> pair : together) {
      List<String> routes = List.copyOf(pair);
      assertFalse(junction.together(routes.get(0), routes.get(1)), pair.toString());
      assertFalse(junction.together(routes.get(1), routes.get(0)), pair.toString());
    }
  }

  // H.8, D.3 check 1: an undeclared name is not "free".
  @Test
  void nameThatIsNotDeclaredIsToldAndNotTakenForFree() {
    Set<String> declared =
        junction.routes().stream()
            .flatMap(route -> list(route.get("sub_routes")).stream())
            .map(JsonNode::asText)
            .collect(Collectors.toSet());
    Set<String> undeclared = new LinkedHashSet<>();
    freeConditions().values().forEach(undeclared::addAll);
    undeclared.removeAll(declared);
    assertTrue(undeclared.contains("UAC-BD"), undeclared.toString());

    for (String name : undeclared) {
      String rules = junction.draft.replaceFirst("clear: \\[TAC, TAD", "clear: [TAC, TAD, " + name);
      Problems problems = new Problems();
      assertTrue(RuleReader.read("coq", rules, junction.layout, problems).isEmpty());
      assertTrue(
          problems.sorted().get(0).wrong().contains("this layout has no section '" + name + "'"),
          problems.sorted().toString());
    }
  }

  private static Set<State> reachable() {
    State start = new State(Set.of(), Map.of("P100", "N", "P110", "N"));
    Set<State> seen = new HashSet<>(Set.of(start));
    Deque<State> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      State state = open.pop();
      for (JsonNode route : junction.routes()) {
        if (canBeSet(route, state)) {
          State next = with(route, state);
          if (seen.add(next)) {
            open.push(next);
          }
        }
      }
    }
    return seen;
  }

  /** Available, and each of its points lies right or is free to move there. */
  private static boolean canBeSet(JsonNode route, State state) {
    Set<String> locked = new HashSet<>();
    for (JsonNode other : junction.routes()) {
      if (state.set().contains(id(other))) {
        other.get("sub_routes").forEach(part -> locked.add(part.asText()));
      }
    }
    return !state.set().contains(id(route))
        && positions(route).entrySet().stream()
            .allMatch(
                points ->
                    state.points().get(points.getKey()).equals(points.getValue())
                        || freeConditions().get(points.getKey() + points.getValue()).stream()
                            .noneMatch(locked::contains));
  }

  private static State with(JsonNode route, State state) {
    Set<String> set = new HashSet<>(state.set());
    set.add(id(route));
    Map<String, String> points = new HashMap<>(state.points());
    points.putAll(positions(route));
    return new State(set, points);
  }

  private static Map<String, String> positions(JsonNode route) {
    return route.get("switches").properties().stream()
        .collect(Collectors.toMap(Map.Entry::getKey, at -> at.getValue().asText()));
  }

  /** By points and position: the sub-routes that must be free, under the names as published. */
  private static Map<String, Set<String>> freeConditions() {
    return junction.data.get("points_free_to_move_as_published").properties().stream()
        .collect(
            Collectors.toMap(
                Map.Entry::getKey,
                row ->
                    SUB_ROUTE
                        .matcher(row.getValue().asText())
                        .results()
                        .map(part -> part.group())
                        .collect(Collectors.toSet())));
  }

  private static Set<Set<String>> conflictingPairsSetTogether(Set<State> states) {
    return junction.publishedConflicts().stream()
        .filter(pair -> states.stream().anyMatch(state -> state.set().containsAll(pair)))
        .collect(Collectors.toSet());
  }
}
