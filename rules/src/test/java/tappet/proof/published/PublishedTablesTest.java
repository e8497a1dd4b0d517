package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.Interlocking;
import tappet.interlocking.PublishedExample;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;
import tappet.rules.ControlTable;

/**
 * The published control tables (src/test/resources/published, each with its source) as rule files
 * on layouts that have their plans: all five are proven safe, also those two whose own equations
 * are not, since the tables are right and the equations are Tappet's.
 */
class PublishedTablesTest {

  private static final Path RULES = Path.of("src", "test", "resources", "published-rules");

  static List<String> names() {
    return PublishedExample.NAMES;
  }

  private static ControlTable table(PublishedExample published, String name) {
    try {
      String rules = Files.readString(RULES.resolve(name + ".yaml"));
      return PublishedExample.read(rules, published.layout);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @ParameterizedTest
  @MethodSource("names")
  void ruleFileHasThePublishedRoutesAndNoOther(String name) {
    PublishedExample published = PublishedExample.named(name);
    ControlTable table = table(published, name);
    Set<String> rows = new LinkedHashSet<>();
    for (JsonNode route : published.routes()) {
      rows.add(published.rowOf(route, table).id());
    }
    assertEquals(rows, table.routes().keySet());
    assertEquals(published.routes().size(), rows.size());
  }

  @ParameterizedTest
  @MethodSource("names")
  void publishedTableIsProvenSafe(String name) {
    PublishedExample published = PublishedExample.named(name);
    ControlTable table = table(published, name);
    Watched watched =
        SafetyProperties.of(published.layout, new Interlocking(published.layout, table).network());
    Judged judged = Judged.of(watched);
    assertEquals(Map.of(), judged.disproven());
    assertEquals(Set.of(), judged.unproven());
  }
}
