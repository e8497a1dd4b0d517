package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import tappet.layout.Board;
import tappet.layout.HeadKind;
import tappet.layout.Joint;
import tappet.layout.Layout;
import tappet.layout.LinesideDevice;
import tappet.layout.NamedPlace;
import tappet.layout.Opening;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.TrafficLine;

/** What a page needs to draw the railroad: all that does not change while the rules run. */
public final class PlanJson {

  private final Layout layout;
  private final TrackPlan plan;
  private final ControlTable table;
  private final Map<String, List<String>> territories;

  private PlanJson(Layout layout, ControlTable table, Map<String, List<String>> territories) {
    this.layout = layout;
    this.plan = new TrackPlan(layout);
    this.table = table;
    this.territories = territories;
  }

  /**
   * The plan as one JSON object.
   *
   * @param territories the places of each dispatcher's territory; none where one has all
   */
  public static String of(
      Layout layout, ControlTable table, Map<String, List<String>> territories) {
    return JsonText.object(new PlanJson(layout, table, territories)::write);
  }

  /** Writes the fields of one thing. */
  @FunctionalInterface
  private interface Fields<T> {
    void write(T thing, JsonGenerator json) throws IOException;
  }

  private static <T> void each(
      String kind, Map<String, T> things, Fields<T> fields, JsonGenerator json) throws IOException {
    json.writeObjectFieldStart(kind);
    for (var thing : things.entrySet()) {
      json.writeObjectFieldStart(thing.getKey());
      fields.write(thing.getValue(), json);
      json.writeEndObject();
    }
    json.writeEndObject();
  }

  private void write(JsonGenerator json) throws IOException {
    json.writeStringField("name", layout.name());
    writeJoints(json);
    each("sections", layout.sections(), this::section, json);
    each("switches", layout.switches(), PlanJson::toe, json);
    each("signals", layout.signals(), this::signal, json);
    var lineside = layout.lineside();
    each("openings", lineside.openings(), PlanJson::opening, json);
    each("crossings", lineside.crossings(), named("island", it -> it.island()), json);
    each("spots", lineside.spots(), named("at", it -> it.at()), json);
    each("lamps", lineside.lamps(), PlanJson::name, json);
    each("buttons", lineside.buttons(), PlanJson::name, json);
    each("districts", lineside.districts(), PlanJson::name, json);
    each("lines", table.lines(), PlanJson::line, json);
    each("boards", layout.boards(), PlanJson::board, json);
    each("routes", table.routes(), PlanJson::route, json);
    each("places", layout.places(), PlanJson::place, json);
    each("territories", territories, (places, out) -> JsonText.texts("places", places, out), json);
  }

  private void writeJoints(JsonGenerator json) throws IOException {
    json.writeObjectFieldStart("joints");
    for (Joint joint : layout.joints().values()) {
      json.writeFieldName(joint.id());
      writePlace(joint, json);
    }
    json.writeEndObject();
  }

  private static void writePlace(Joint joint, JsonGenerator json) throws IOException {
    json.writeArray(new double[] {joint.x(), joint.y()}, 0, 2);
  }

  private void section(Section section, JsonGenerator json) throws IOException {
    json.writeStringField("name", section.name());
    json.writeNumberField("metres", section.lengthMetres());
    var capacity = layout.capacity(section);
    if (capacity.isPresent()) {
      json.writeNumberField("cars", capacity.getAsInt());
    }
    var district = layout.lineside().districtOf(section.id());
    if (district.isPresent()) {
      json.writeStringField("district", district.get().id());
    }
    for (NamedPlace place : layout.places().values()) {
      if (place.sections().contains(section.id())) {
        json.writeStringField("place", place.id());
        json.writeBooleanField("hidden", place.hidden());
      }
    }
    json.writeArrayFieldStart("tracks");
    for (Track track : plan.tracksIn(section.id())) {
      json.writeArray(new String[] {track.from(), track.to()}, 0, 2);
    }
    json.writeEndArray();
  }

  private static void toe(Switch toe, JsonGenerator json) throws IOException {
    json.writeStringField("name", toe.name());
    json.writeStringField("section", toe.section());
    json.writeStringField("points", toe.points());
    for (Position position : Position.values()) {
      if (toe.hasLeg(position)) {
        json.writeStringField(position.word(), toe.leg(position));
      }
    }
    json.writeStringField("control", lower(toe.control()));
    json.writeStringField("number", toe.number());
    json.writeBooleanField("derail", toe.working().derail());
    json.writeBooleanField("lock", toe.lock().isPresent());
  }

  private void signal(Signal signal, JsonGenerator json) throws IOException {
    json.writeStringField("name", signal.name());
    json.writeStringField("at", signal.at());
    json.writeStringField("into", signal.into());
    var inside = plan.into(signal.at(), signal.into());
    if (!inside.isEmpty()) {
      json.writeFieldName("toward");
      writePlace(layout.joints().get(inside.get(0).otherEnd(signal.at())), json);
    }
    json.writeStringField("kind", lower(signal.kind()));
    if (signal.repeats().isPresent()) {
      json.writeStringField("repeats", signal.repeats().get());
    }
    JsonText.texts("heads", signal.heads().stream().map(HeadKind::word).toList(), json);
    JsonText.texts("aspects", List.copyOf(signal.aspects()), json);
  }

  private static void opening(Opening opening, JsonGenerator json) throws IOException {
    json.writeStringField("name", opening.name());
    json.writeStringField("kind", opening.form().word());
    JsonText.texts("sections", opening.sections(), json);
    json.writeBooleanField("lock", opening.lock().isPresent());
  }

  private static void name(LinesideDevice device, JsonGenerator json) throws IOException {
    json.writeStringField("name", device.name());
  }

  private static <T extends LinesideDevice> Fields<T> named(
      String word, Function<T, String> where) {
    return (device, json) -> {
      name(device, json);
      json.writeStringField(word, where.apply(device));
    };
  }

  private static void line(TrafficLine line, JsonGenerator json) throws IOException {
    JsonText.texts("sections", List.copyOf(line.sections()), json);
  }

  private static void board(Board board, JsonGenerator json) throws IOException {
    json.writeStringField("name", board.name());
    json.writeStringField("node", board.node().toString());
  }

  private static void route(RouteRow row, JsonGenerator json) throws IOException {
    json.writeStringField("from", row.from());
    json.writeStringField("to", row.to());
    json.writeObjectFieldStart("switches");
    for (var toe : row.switches().entrySet()) {
      json.writeStringField(toe.getKey(), toe.getValue().word());
    }
    json.writeEndObject();
    JsonText.texts("path", row.path(), json);
    json.writeStringField("speed", row.speed());
    json.writeBooleanField("automatic", row.automatic());
    json.writeBooleanField("callOn", row.callOn().isPresent());
  }

  private static void place(NamedPlace place, JsonGenerator json) throws IOException {
    json.writeStringField("name", place.name());
    JsonText.texts("sections", place.sections(), json);
    json.writeBooleanField("notes", place.notes().isPresent());
    json.writeBooleanField("hidden", place.hidden());
  }

  private static String lower(Enum<?> word) {
    return word.name().toLowerCase(Locale.ROOT);
  }
}
