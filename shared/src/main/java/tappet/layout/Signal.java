package tappet.layout;

import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A signal that governs movements from a joint into a section.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param at the joint it stands at
 * @param into the section it leads into
 * @param shows the event that makes it show each aspect, in the order of the file; {@value #STOP}
 *     is always there
 * @param place where it stands in the layout file
 */
public record Signal(
    String id, String name, String at, String into, Map<String, EventId> shows, Place place) {

  /** The name of the most restrictive aspect. */
  public static final String STOP = "stop";
}
