package tappet.proof.published;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.interlocking.PublishedExample;
import tappet.proof.published.EventSearch.Extent;

/**
 * How large the train system is with some of its routes: a row of {@code oracle_state_counts} in
 * abrial-train-system.json.
 *
 * @param routes the routes that exist
 * @param extent its states, transitions and depth
 */
record StateCount(Set<String> routes, Extent extent) {

  /** All ten routes have too many states for a test. */
  private static final int ROUTES_OF_A_TEST = 4;

  /** Every row of the file. */
  static List<StateCount> all() {
    PublishedExample published = PublishedExample.named(PublishedExample.TRAIN_SYSTEM);
    JsonNode counts = published.data.get("oracle_state_counts").get("subsets");
    return PublishedExample.list(counts).stream().map(row -> of(row, published)).toList();
  }

  private static StateCount of(JsonNode row, PublishedExample published) {
    return new StateCount(
        row.get("routes").isArray()
            ? new LinkedHashSet<>(PublishedExample.texts(row.get("routes")))
            : allRoutes(published),
        new Extent(
            row.get("states").asInt(), row.get("transitions").asLong(), row.get("depth").asInt()));
  }

  private static Set<String> allRoutes(PublishedExample published) {
    return published.routes().stream()
        .map(PublishedExample::id)
        .collect(Collectors.toCollection(LinkedHashSet::new));
  }

  boolean isSmall() {
    return routes.size() <= ROUTES_OF_A_TEST;
  }
}
