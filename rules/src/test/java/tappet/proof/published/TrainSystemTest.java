package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.PublishedExample;
import tappet.network.Variable;
import tappet.proof.ExplicitSearch;
import tappet.proof.Property;
import tappet.proof.Watched;

/**
 * J.-R. Abrial, Modeling in Event-B, Cambridge University Press 2010, chapter 17: the published
 * machine is safe. How many states it has is in abrial-train-system.json, {@code
 * oracle_state_counts}. The count for all ten routes, 61,648,075, is not reproduced: the search
 * keeps every state in memory. Nor are the counts of transitions: the search counts states.
 */
class TrainSystemTest {

  static Stream<JsonNode> subsets() {
    return PublishedExample.list(counts()).stream()
        .filter(subset -> subset.get("routes").isArray());
  }

  private static JsonNode counts() {
    return PublishedExample.named(PublishedExample.TRAIN_SYSTEM)
        .data
        .get("oracle_state_counts")
        .get("subsets");
  }

  @ParameterizedTest
  @MethodSource("subsets")
  void hasAsManyStatesAsItsFileSaysAndIsSafeInEach(JsonNode subset) {
    Watched watched = TrainSystem.with(routes(subset));
    List<Variable> properties = watched.properties().stream().map(Property::holds).toList();
    int depth = subset.get("depth").asInt();

    ExplicitSearch search = new ExplicitSearch(watched.network(), properties);
    search.search(depth + 1);

    assertEquals(subset.get("states").asInt(), search.states());
    assertEquals(depth + 1, search.ticks(), "the last new state comes after " + depth);
    assertEquals(Map.of(), search.firstFalse());
  }

  private static Set<String> routes(JsonNode subset) {
    return new LinkedHashSet<>(PublishedExample.texts(subset.get("routes")));
  }

  /**
   * That is what keeps trains apart. That a train stays in its blocks and its track as it lies
   * follows from three things at a time, and no lemma of two latches holds it up: the search
   * through every state is all that is said of those.
   */
  @Test
  void provesThatNoBlockIsReservedForTwoOfAllTenRoutes() {
    Watched whole = TrainSystem.with(all());
    List<Property> ofReservation =
        whole.properties().stream()
            .filter(property -> property.words().endsWith("is reserved for one route at most"))
            .toList();
    assertEquals(14, ofReservation.size(), "blocks A to N");
    Judged judged =
        Judged.of(
            new Watched(whole.network(), ofReservation, whole.happenings(), whole.assumptions()));
    assertEquals(ofReservation.size(), judged.proven().size());
  }

  private static Set<String> all() {
    Set<String> all = new LinkedHashSet<>();
    PublishedExample.named(PublishedExample.TRAIN_SYSTEM)
        .routes()
        .forEach(route -> all.add(PublishedExample.id(route)));
    return all;
  }
}
