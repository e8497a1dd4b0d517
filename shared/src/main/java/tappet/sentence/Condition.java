package tappet.sentence;

import java.util.List;
import tappet.layout.Position;
import tappet.source.Place;

/** Something about the railroad that is true or not. A place is where the name stands. */
public sealed interface Condition {

  /** What a section can be. */
  enum Occupancy {
    CLEAR,
    OCCUPIED,
    UNKNOWN
  }

  /** {@code section X is clear}. */
  record SectionIs(String section, Occupancy occupancy, Place place) implements Condition {}

  /** {@code switch X is reverse}: detected there. */
  record SwitchIs(String switchId, Position position, Place place) implements Condition {}

  /**
   * {@code signal X is approach}: shows that aspect.
   *
   * @param place where the signal's name stands
   * @param aspectPlace where the aspect's name stands
   */
  record SignalIs(String signal, String aspect, Place place, Place aspectPlace)
      implements Condition {}

  /** {@code route X is locked}: some of it is held. */
  record RouteIsLocked(String route, Place place) implements Condition {}

  /** All of them, two or more. */
  record All(List<Condition> parts) implements Condition {}

  /** At least one of them, two or more. */
  record Any(List<Condition> parts) implements Condition {}

  /** Not that. */
  record Not(Condition part) implements Condition {}
}
