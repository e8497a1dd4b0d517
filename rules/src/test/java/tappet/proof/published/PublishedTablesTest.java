package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.Interlocking;
import tappet.interlocking.PublishedExample;
import tappet.layout.Position;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;

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

  // railml-station.json, expected.negative_test: "drop the trailing switches of R_09 and R_14 and
  // the no-run-through property must fail". A rule file without them is refused already
  // (PublishedExamplesTest); here the rows are made without.
  @Test
  void trailingSwitchThatIsDroppedIsRunThrough() {
    PublishedExample station = PublishedExample.named(PublishedExample.RAILML_STATION);
    ControlTable table = table(station, PublishedExample.RAILML_STATION);
    for (JsonNode route : station.routes()) {
      if (Set.of("R_09", "R_14").contains(PublishedExample.id(route))) {
        RouteRow row = station.rowOf(route, table);
        String dropped = route.get("trailing_switches_missing_from_railml").get(0).asText();
        Story story = storyOf(station, without(dropped, row, table), row.from());
        String facing = route.get("facing_switches_in_railml").get(0).asText();
        assertEquals(
            List.of(
                "route " + row.id() + ": asked",
                "switch " + facing + ": detected normal no longer",
                "switch " + facing + ": detected reverse"),
            Judged.moments(story),
            "the signal clears while switch " + dropped + " still lies normal");
      }
    }
  }

  private static Story storyOf(PublishedExample station, ControlTable table, String signal) {
    Watched watched =
        SafetyProperties.of(station.layout, new Interlocking(station.layout, table).network());
    Judged runThrough =
        Judged.of(
            watched,
            property ->
                property.kind() == Property.Kind.CLEAR_WAY
                    && property.words().startsWith("signal " + signal + " "));
    assertEquals(1, runThrough.disproven().size());
    return runThrough.disproven().values().iterator().next();
  }

  private static ControlTable without(String toe, RouteRow row, ControlTable table) {
    Map<String, Position> switches = new LinkedHashMap<>(row.switches());
    switches.remove(toe);
    Map<String, RouteRow> routes = new LinkedHashMap<>(table.routes());
    routes.put(
        row.id(),
        new RouteRow(
            row.id(),
            row.from(),
            row.to(),
            row.nextSignal(),
            row.path(),
            row.alsoClear(),
            switches,
            row.flank(),
            row.speed(),
            row.release(),
            row.approach(),
            row.conflicts(),
            row.overlap(),
            row.callOn(),
            row.automatic(),
            row.needs(),
            row.place()));
    return new ControlTable(
        table.times(),
        routes,
        table.ladders(),
        table.lines(),
        table.needs(),
        table.lights(),
        table.lineside(),
        table.locks(),
        table.flags());
  }
}
