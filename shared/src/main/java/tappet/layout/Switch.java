package tappet.layout;

import java.time.Duration;
import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A switch (turnout) thrown by the dispatcher.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param section the section its legs lie in
 * @param points the joint at its points
 * @param normal the joint its normal leg leads to
 * @param reverse the joint its reverse leg leads to
 * @param to the events that command it, one a position
 * @param at the events a board sends when it is detected in a position
 * @param throwTime how long it may move before it counts as out of correspondence
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
    Place place) {

  /** The joint that the leg of {@code position} leads to. */
  public String leg(Position position) {
    return position == Position.NORMAL ? normal : reverse;
  }
}
