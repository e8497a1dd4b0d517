package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.LinkedHashSet;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * J.-R. Abrial, Modeling in Event-B, Cambridge University Press 2010, chapter 17: the published
 * machine is safe. How many states and transitions it has is in abrial-train-system.json, {@code
 * oracle_state_counts}. With all ten routes, 61,648,075 states, it is searched by {@code
 * rules/bin/published-states}.
 */
class TrainSystemTest {

  static Stream<StateCount> someRoutes() {
    return StateCount.all().stream().filter(StateCount::isSmall);
  }

  @ParameterizedTest
  @MethodSource("someRoutes")
  void isAsLargeAsItsFileSaysAndSafeInEachState(StateCount published) {
    TrainSystem system = TrainSystem.with(published.routes());
    EventSearch search = new EventSearch(system.watched(), system.happens());
    assertEquals(published.extent(), search.search(each -> {}));
    assertEquals(Set.of(), search.broken());
  }

  /**
   * That is what keeps trains apart. That a train stays in its blocks and its track as it lies
   * follows from three things at a time, and no lemma of two latches holds it up: the search
   * through every state is all that is said of those.
   */
  @Test
  void provesThatNoBlockIsReservedForTwoOfAllTenRoutes() {
    Judged judged =
        Judged.of(
            TrainSystem.with(allRoutes()).watched(),
            property -> property.words().endsWith("is reserved for one route at most"));
    assertEquals(14, judged.proven().size(), "blocks A to N");
    assertEquals(Set.of(), judged.disproven().keySet());
    assertEquals(Set.of(), judged.unproven());
  }

  private static Set<String> allRoutes() {
    Set<String> routes = new LinkedHashSet<>();
    StateCount.all().forEach(count -> routes.addAll(count.routes()));
    assertEquals(10, routes.size());
    return routes;
  }
}
