package tappet.layout;

import java.util.Map;
import tappet.source.Place;

/**
 * Switches that turn aside whatever runs away toward a section (flank protection; interlocking
 * sheet, F.1, S2 and S8).
 *
 * @param section what they guard
 * @param switches how they must lie for that, by the id of the switch
 * @param place where it stands in the layout file
 */
public record Guard(String section, Map<String, Position> switches, Place place) {}
