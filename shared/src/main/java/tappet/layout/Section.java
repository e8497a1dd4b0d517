package tappet.layout;

import java.util.List;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A stretch of track with its own occupancy detection.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param between the two joints of a plain stretch of track, or empty where the section's tracks
 *     are the legs of its switches
 * @param lengthMetres the length of each way through the section, in metres, above 0
 * @param occupied the event a board sends when the section becomes occupied
 * @param clear the event a board sends when the section becomes clear
 * @param place where it stands in the layout file
 */
public record Section(
    String id,
    String name,
    List<String> between,
    double lengthMetres,
    EventId occupied,
    EventId clear,
    Place place) {}
