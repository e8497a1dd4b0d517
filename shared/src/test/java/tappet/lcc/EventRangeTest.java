package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class EventRangeTest {

  private static final JsonNode VECTORS = Vectors.read("event-ranges.json");

  static Stream<JsonNode> ranges() {
    return Vectors.rows(VECTORS.get("vectors"));
  }

  static Stream<JsonNode> memberships() {
    return Vectors.rows(VECTORS.get("membership"));
  }

  static Stream<JsonNode> publishedRanges() {
    return Vectors.rows(VECTORS.get("published_24_bit_examples").get("rows"));
  }

  // S-9.7.3.1 §4
  @ParameterizedTest
  @MethodSource("ranges")
  void blockIsWrittenAndReadAsPublished(JsonNode row) {
    var first = EventId.of(row.get("first").asText());
    var range = new EventRange(first, row.get("count_log2").asInt());
    var encoded = EventId.of(row.get("encoded").asText());
    assertEquals(encoded, range.encode());
    assertEquals(range, EventRange.decode(encoded));
    assertEquals(EventId.of(row.get("last").asText()), range.last());
  }

  // S-9.7.3.1 §4
  @ParameterizedTest
  @MethodSource("memberships")
  void eventIsInARangeIfOnlyTheMaskTellsThemApart(JsonNode row) {
    var range = EventRange.decode(EventId.of(row.get("range").asText()));
    var event = EventId.of(row.get("event_id").asText());
    assertEquals(row.get("in_range").asBoolean(), range.contains(event));
  }

  // TN-9.7.3.1 §2.4, printed with 24 bits
  @ParameterizedTest
  @MethodSource("publishedRanges")
  void shortExamplesOfTheTechnicalNoteHoldAtTheLowEnd(JsonNode row) {
    var range = EventRange.decode(new EventId(Vectors.hex(row, "encoded")));
    assertEquals(new EventId(Vectors.hex(row, "first")), range.first());
    assertEquals(new EventId(Vectors.hex(row, "last")), range.last());
  }

  // S-9.7.3.1 §4: every encoded value is a range of two events at least
  @Test
  void everyValueIsARangeThatIsWrittenAsAValueOfTheSameMeaning() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    for (int count = 0; count < 100_000; count++) {
      var value = new EventId(random.nextLong() << random.nextInt(64));
      var range = EventRange.decode(value);
      assertEquals(range, EventRange.decode(range.encode()), "seed " + seed);
      assertTrue(range.contains(value) && range.contains(range.last()), "seed " + seed);
    }
    assertEquals(EventRange.decode(new EventId(0)), EventRange.decode(new EventId(~0L >>> 1)));
  }

  @Test
  void blockThatIsNotAlignedIsRefused() {
    var odd = EventId.of("02.01.0D.12.34.56.00.05");
    assertThrows(IllegalArgumentException.class, () -> new EventRange(odd, 1));
    assertThrows(IllegalArgumentException.class, () -> new EventRange(odd, 0));
    assertThrows(IllegalArgumentException.class, () -> new EventRange(new EventId(0), 64));
  }
}
