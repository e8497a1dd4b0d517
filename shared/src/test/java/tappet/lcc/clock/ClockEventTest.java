package tappet.lcc.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.lcc.EventId;
import tappet.lcc.Vectors;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Report;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

class ClockEventTest {

  private static final JsonNode VECTORS = Vectors.read("broadcast-time.json");

  static Stream<JsonNode> events() {
    return Vectors.rows(VECTORS.get("vectors"));
  }

  // S-9.7.4.5 §4.1 to §4.11: the source stands in each row
  @ParameterizedTest
  @MethodSource("events")
  void eventIsWrittenAndReadAsPublished(JsonNode row) {
    ClockEvent meaning = meaning(row);
    assertEquals(Vectors.hex(row, "low16"), meaning.code());
    var event = EventId.of(row.get("event_id_default_fast").asText());
    assertEquals(event, ClockId.DEFAULT_FAST.event(meaning));
    assertEquals(Optional.of(meaning), ClockId.DEFAULT_FAST.read(event));
    assertEquals(Optional.empty(), ClockId.DEFAULT_REAL_TIME.read(event));
  }

  private static ClockEvent meaning(JsonNode row) {
    String id = row.get("id").asText();
    if (!id.startsWith("set-") && !id.startsWith("report-")) {
      return Order.valueOf(id.toUpperCase(java.util.Locale.ROOT).replace('-', '_'));
    }
    Setting setting = setting(row);
    return id.startsWith("set-") ? new ClockEvent.Set(setting) : new Report(setting);
  }

  private static Setting setting(JsonNode row) {
    if (row.has("hour")) {
      return new Time(row.get("hour").asInt(), row.get("minute").asInt());
    }
    if (row.has("month")) {
      return new Date(row.get("month").asInt(), row.get("day").asInt());
    }
    return row.has("year")
        ? new Year(row.get("year").asInt())
        : new Rate((int) (row.get("rate").asDouble() * 4));
  }

  // S-9.7.4.5 §4.12
  @Test
  void reservedCodesAreIgnored() {
    for (JsonNode code : VECTORS.get("reserved_ignore_on_receipt").get("low16")) {
      assertEquals(
          Optional.empty(), ClockEvent.decode(Integer.parseInt(code.asText(), 16)), code.asText());
    }
  }

  @Test
  void everyCodeThatIsReadIsWrittenAlike() {
    int understood = 0;
    for (int code = 0; code <= 0xFFFF; code++) {
      Optional<ClockEvent> event = ClockEvent.decode(code);
      int number = code;
      event.ifPresent(read -> assertEquals(number, read.code()));
      understood += event.isPresent() ? 1 : 0;
    }
    assertEquals(2 * (24 * 60 + 12 * 31 + 4096 + 4096) + 4, understood);
  }

  // S-9.7.4.5 §4, §6.1; S-9.7.3.1 §4
  @ParameterizedTest
  @CsvSource({
    "01.01.00.00.01.00, 01.01.00.00.01.00.FF.FF",
    "01.01.00.00.01.01, 01.01.00.00.01.01.00.00",
    "01.01.00.00.01.02, 01.01.00.00.01.02.FF.FF",
    "01.01.00.00.01.03, 01.01.00.00.01.03.00.00",
  })
  void clockIsOneRangeOfEvents(String upper, String encoded) {
    var clock = new ClockId(tappet.lcc.NodeId.of(upper));
    assertEquals(EventId.of(encoded), clock.range().encode());
  }

  @Test
  void valuesThatNoClockShowsAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Time(24, 0));
    assertThrows(IllegalArgumentException.class, () -> new Time(0, 60));
    assertThrows(IllegalArgumentException.class, () -> new Date(13, 1));
    assertThrows(IllegalArgumentException.class, () -> new Date(1, 0));
    assertThrows(IllegalArgumentException.class, () -> new Year(4096));
    assertThrows(IllegalArgumentException.class, () -> new Rate(2048));
  }
}
