package tappet.layout;

import java.util.List;
import tappet.source.Place;

/**
 * A crossing at grade: two tracks of one section that cross without a switch. A train can run over
 * either of them, never from one to the other, and never two trains at once.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param section the section that both tracks lie in
 * @param tracks the two tracks, each between two joints; four different joints in all
 * @param place where it stands in the layout file
 */
public record Diamond(
    String id, String name, String section, List<List<String>> tracks, Place place) {}
