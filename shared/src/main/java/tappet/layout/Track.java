package tappet.layout;

import java.util.Objects;
import java.util.Optional;

/**
 * One piece of track between two joints: a plain section, one leg of a switch, or one track of a
 * diamond.
 *
 * @param section the section it lies in
 * @param from a joint; the points where it is a switch leg
 * @param to the other joint
 * @param leg the switch and position that make this piece passable, or empty for plain track
 */
public record Track(String section, String from, String to, Optional<Leg> leg) {

  /**
   * A position of a switch.
   *
   * @param switchId the switch
   * @param position its position
   */
  public record Leg(String switchId, Position position) {

    @Override
    public boolean equals(Object other) {
      return other instanceof Leg leg && leg.switchId.equals(switchId) && leg.position == position;
    }

    @Override
    public int hashCode() {
      return Objects.hash(switchId, position);
    }
  }

  /** Written out: what Java makes up at run time for a record takes 10 ms of every start. */
  @Override
  public boolean equals(Object other) {
    return other instanceof Track track
        && track.section.equals(section)
        && track.from.equals(from)
        && track.to.equals(to)
        && track.leg.equals(leg);
  }

  @Override
  public int hashCode() {
    return Objects.hash(section, from, to, leg);
  }

  /** The joint at the other end. */
  public String otherEnd(String joint) {
    return joint.equals(from) ? to : from;
  }
}
