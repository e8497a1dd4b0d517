package tappet.layout;

import java.time.Duration;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * Track that can be taken out or turned away, so that people or boats can pass.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param form how it opens
 * @param sections the sections that lie over it
 * @param closed the event a board sends when it is closed
 * @param open the event a board sends when it is open
 * @param lock its lock; empty where it is detected only, and anyone can open it
 * @param place where it stands in the layout file
 */
public record Opening(
    String id,
    String name,
    Form form,
    List<String> sections,
    EventId closed,
    EventId open,
    Optional<Lock> lock,
    Place place)
    implements LinesideDevice {

  /** How it opens. */
  public enum Form {
    LIFT_OUT,
    GATE,
    DRAWBRIDGE,
    TURNTABLE;

    /** The owner's word, such as {@code lift-out}. */
    public String word() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The form with that word. */
    static Optional<Form> of(String word) {
      return Stream.of(values()).filter(form -> form.word().equals(word)).findFirst();
    }

    /** All of their words. */
    static List<String> words() {
      return Stream.of(values()).map(Form::word).toList();
    }
  }

  /**
   * What keeps it closed.
   *
   * @param locked the event a board sends when the bolt is home
   * @param unlocked the event a board sends when the bolt is drawn
   * @param lock the event that sends the bolt home
   * @param unlock the event that draws it
   * @param time how long the bolt may move before it counts as out of correspondence, above 0
   */
  public record Lock(
      EventId locked, EventId unlocked, EventId lock, EventId unlock, Duration time) {}

  @Override
  public String kind() {
    return "opening";
  }

  @Override
  public Map<String, EventId> tells() {
    Map<String, EventId> events = new LinkedHashMap<>();
    events.put("closed", closed);
    events.put("open", open);
    lock.ifPresent(bolt -> events.put("locked", bolt.locked()));
    lock.ifPresent(bolt -> events.put("unlocked", bolt.unlocked()));
    return Collections.unmodifiableMap(events);
  }

  @Override
  public Map<String, EventId> told() {
    return lock.map(bolt -> Lineside.events("to lock", bolt.lock(), "to unlock", bolt.unlock()))
        .orElse(Map.of());
  }
}
