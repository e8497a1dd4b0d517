package tappet.layout;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.source.Place;
import tappet.source.Value;

/** The event ids of a layout: one id, one meaning, for ever (S-9.7.0.4 §5.1). */
final class Wiring {

  /** Stands in where no event id could be read. */
  static final EventId NONE = new EventId(0);

  private final Map<EventId, Use> uses = new HashMap<>();

  private record Use(String meaning, Place place) {}

  /**
   * Reads an event id.
   *
   * @param meaning what the event says, for the message if it says something else already
   */
  Optional<EventId> event(Value written, String meaning) {
    var event = written.parsed(EventId::parse, "an event id, eight dotted hexadecimal bytes");
    event.ifPresent(id -> noteSecondMeaning(id, meaning, written));
    return event;
  }

  private void noteSecondMeaning(EventId id, String meaning, Value written) {
    var earlier = uses.putIfAbsent(id, new Use(meaning, written.place()));
    if (earlier != null) {
      written.note(
          "event %s already means \"%s\", in line %d"
              .formatted(id, earlier.meaning(), earlier.place().line()),
          "give \"%s\" an id of its own".formatted(meaning));
    }
  }
}
