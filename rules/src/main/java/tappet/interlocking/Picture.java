package tappet.interlocking;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import tappet.layout.Position;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition.Occupancy;

/**
 * All that the interlocking shows of a railroad at one moment, by the ids of the layout and in its
 * order. Moments at which a time ends are in nanoseconds of the clock that the interlocking is
 * stepped by.
 *
 * @param sections what is known of each section
 * @param switches how each switch lies
 * @param signals what each signal shows
 * @param locks the electric locks by the switch that they hold
 * @param lines which way trains run over each line; empty where that is not set
 * @param openings the openings
 * @param crossings whether each grade crossing warns its road
 * @param districts whether each power district is tripped; empty where nothing is known
 * @param lamps whether each lamp of the fascia is lit
 * @param protections who is protected, where and why
 */
public record Picture(
    Map<String, OfSection> sections,
    Map<String, OfSwitch> switches,
    Map<String, OfSignal> signals,
    Map<String, OfLock> locks,
    Map<String, Optional<Heading>> lines,
    Map<String, OfOpening> openings,
    Map<String, Boolean> crossings,
    Map<String, Optional<Boolean>> districts,
    Map<String, Boolean> lamps,
    List<Protection> protections) {

  /**
   * A section.
   *
   * @param occupancy what its detector tells
   * @param route the route that holds it, or the automatic one whose traffic is set over it
   */
  public record OfSection(Occupancy occupancy, Optional<String> route) {}

  /**
   * A switch.
   *
   * @param lies the position it is detected in, or assumed to lie in where it has no detection
   * @param called where it was sent last
   * @param locked whether it must not be moved now
   * @param trouble whether a person must see to it
   */
  public record OfSwitch(
      Optional<Position> lies, Optional<Position> called, boolean locked, boolean trouble) {

    /** It is on its way to where it was sent. */
    public boolean moves() {
      return called.isPresent() && !lies.equals(called) && !trouble;
    }
  }

  /**
   * A signal.
   *
   * @param shows its aspect
   * @param dark its lights are out since no train can see them
   * @param route the route that is lined from it, until a train has accepted it or it is released
   * @param cancelling whether that route waits to be released
   * @param untilNs when it is released at the latest
   * @param fleeted the route that is lined again behind each train
   * @param stacked the route that waits to be lined
   */
  public record OfSignal(
      String shows,
      boolean dark,
      Optional<String> route,
      boolean cancelling,
      OptionalLong untilNs,
      Optional<String> fleeted,
      Optional<String> stacked) {}

  /** What an electric lock does. */
  public enum Holding {
    /** It holds its switch. */
    SECURED,
    /** It is to let its switch go, and its release time runs. */
    RELEASING,
    /** A hand may throw the switch. */
    RELEASED,
    /** It was not released, and is not known to hold. */
    UNKNOWN
  }

  /**
   * An electric lock.
   *
   * @param holding what it does
   * @param holder to whom it was released, where a name was said
   * @param untilNs when its release time has run at the latest
   */
  public record OfLock(Holding holding, Optional<String> holder, OptionalLong untilNs) {}

  /**
   * An opening.
   *
   * @param closed whether it is closed; empty where nothing is known
   * @param hasBolt whether it has a bolt
   * @param locked whether that is home; empty where nothing is known, or it has none
   */
  public record OfOpening(Optional<Boolean> closed, boolean hasBolt, Optional<Boolean> locked) {}
}
