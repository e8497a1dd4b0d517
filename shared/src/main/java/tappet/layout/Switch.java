package tappet.layout;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A switch (turnout), one end of a crossover, or a derail.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param section the section its legs lie in
 * @param points the joint at its points
 * @param normal the joint its normal leg leads to; nothing for a derail
 * @param reverse the joint its reverse leg leads to
 * @param to the events that command it, one a position; empty where no event moves it
 * @param at the events a board sends when it is detected in a position; empty without detection
 * @param throwTime how long it may move before it counts as out of correspondence
 * @param working how it is worked
 * @param place where it stands in the layout file
 */
public record Switch(
    String id,
    String name,
    String section,
    String points,
    String normal,
    String reverse,
    Map<Position, EventId> to,
    Map<Position, EventId> at,
    Duration throwTime,
    Working working,
    Place place) {

  /** A switch with detection, thrown by the dispatcher. */
  public Switch(
      String id,
      String name,
      String section,
      String points,
      String normal,
      String reverse,
      Map<Position, EventId> to,
      Map<Position, EventId> at,
      Duration throwTime,
      Place place) {
    this(
        id,
        name,
        section,
        points,
        normal,
        reverse,
        to,
        at,
        throwTime,
        Working.BY_DISPATCHER,
        place);
  }

  /** The same switch, thrown by whoever throws {@code lead}. */
  Switch workedLike(Switch lead) {
    return new Switch(
        id,
        name,
        section,
        points,
        normal,
        reverse,
        to,
        at,
        throwTime,
        working.by(lead.control()),
        place);
  }

  /** The joint that the leg of {@code position} leads to. */
  public String leg(Position position) {
    return position == Position.NORMAL ? normal : reverse;
  }

  /** Whether there is track for {@code position}; a derail has none for normal. */
  public boolean hasLeg(Position position) {
    return !leg(position).isEmpty();
  }

  /** Who throws it. */
  public Control control() {
    return working.control();
  }

  /** Whether a board tells where it lies. */
  public boolean isDetected() {
    return !at.isEmpty();
  }

  /** The switch whose orders it follows: itself, or the one it moves together with. */
  public String number() {
    return working.with().orElse(id);
  }

  /**
   * The events that tell which board it hangs on: those the board sends, or those that move it
   * where it sends none.
   */
  List<EventId> ownEvents() {
    List<EventId> sent = new ArrayList<>(at.values());
    sent.addAll(working.asks().values());
    working.lock().ifPresent(lock -> sent.addAll(lock.at().values()));
    return List.copyOf(sent.isEmpty() ? to.values() : sent);
  }

  /** Its electric lock. */
  public Optional<ElectricLock> lock() {
    return working.lock();
  }

  /**
   * Whether a train that comes from the leg of {@code position} to the points opens it itself: it
   * is sprung, and the spring holds the other leg.
   */
  public boolean springsFor(Position position) {
    return control() == Control.SPRUNG && position == Position.REVERSE;
  }
}
