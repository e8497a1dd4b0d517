package tappet.layout;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A layout that has been read without a mistake: every name in it is declared, every event id has
 * one meaning. The maps keep the order of the file.
 *
 * @param file the file it was read from, as the owner gave it
 * @param name the railroad's name
 * @param joints the joints by id
 * @param sections the sections by id
 * @param switches the switches by id
 * @param signals the signals by id
 * @param boards the boards to be watched, by id
 * @param lineside the other devices
 * @param diamonds the crossings at grade by id
 * @param trains how trains run here
 * @param guards which switches guard which section
 * @param places the places that people speak of, by id
 * @param heartbeat what the daemon sends for as long as it watches; empty where boards need none
 */
public record Layout(
    String file,
    String name,
    Map<String, Joint> joints,
    Map<String, Section> sections,
    Map<String, Switch> switches,
    Map<String, Signal> signals,
    Map<String, Board> boards,
    Lineside lineside,
    Map<String, Diamond> diamonds,
    Trains trains,
    List<Guard> guards,
    Map<String, NamedPlace> places,
    Optional<Heartbeat> heartbeat) {

  /** Ten cars of 0.16 m fill 1.6 m, whatever becomes of the last digit. */
  private static final double ROUNDING = 1e-9;

  /** A layout without boards to be watched and without other devices. */
  public Layout(
      String file,
      String name,
      Map<String, Joint> joints,
      Map<String, Section> sections,
      Map<String, Switch> switches,
      Map<String, Signal> signals) {
    this(
        file,
        name,
        joints,
        sections,
        switches,
        signals,
        Map.of(),
        Lineside.NONE,
        Map.of(),
        Trains.UNKNOWN,
        List.of(),
        Map.of(),
        Optional.empty());
  }

  /** Whether another layout says the same, wherever in its file it says so. */
  public boolean saysTheSameAs(Layout other) {
    return withoutPlaces(toString()).equals(withoutPlaces(other.toString()));
  }

  private static String withoutPlaces(String text) {
    return text.replaceAll("Place\\[[^\\]]*\\]", "");
  }

  /**
   * How many cars can stand on a section clear of its joints. Where switches or a diamond lie none
   * can: whatever stands there locks them.
   *
   * @return empty where it is not said how long a car is
   */
  public OptionalInt capacity(Section section) {
    if (trains.carLength().isEmpty()) {
      return OptionalInt.empty();
    }
    boolean isPlain = !section.between().isEmpty();
    double cars = section.lengthMetres() / trains.carLength().get() + ROUNDING;
    return OptionalInt.of(isPlain ? (int) cars : 0);
  }

  /** The same layout with these boards. */
  Layout with(Map<String, Board> watched) {
    return new Layout(
        file, name, joints, sections, switches, signals, watched, lineside, diamonds, trains,
        guards, places, heartbeat);
  }

  /** The same layout with these devices. */
  Layout with(Lineside devices) {
    return new Layout(
        file, name, joints, sections, switches, signals, boards, devices, diamonds, trains, guards,
        places, heartbeat);
  }

  /** The same layout with these diamonds. */
  public Layout crossedBy(Map<String, Diamond> crossings) {
    return new Layout(
        file, name, joints, sections, switches, signals, boards, lineside, crossings, trains,
        guards, places, heartbeat);
  }

  /** The same layout, on which trains run so and these switches guard. */
  public Layout runBy(Trains running, List<Guard> guarding) {
    return new Layout(
        file, name, joints, sections, switches, signals, boards, lineside, diamonds, running,
        guarding, places, heartbeat);
  }

  /** The same layout with these places. */
  Layout spokenOfBy(Map<String, NamedPlace> named) {
    return new Layout(
        file, name, joints, sections, switches, signals, boards, lineside, diamonds, trains, guards,
        named, heartbeat);
  }

  /** The same layout, over which the daemon watches audibly. */
  Layout watchedBy(Optional<Heartbeat> beating) {
    return new Layout(
        file, name, joints, sections, switches, signals, boards, lineside, diamonds, trains, guards,
        places, beating);
  }
}
