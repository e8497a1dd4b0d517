package tappet.rules;

import java.util.List;
import java.util.Map;
import tappet.layout.Position;
import tappet.layout.Track;

/**
 * A way from a signal to the next signal in the same direction, or to the end of track.
 *
 * @param from the signal it starts at
 * @param to the signal, or the joint at the end of track, it leads to
 * @param sections the sections it runs over, in order of travel, each once
 * @param switches the position of every switch it runs over, facing and trailing; without sprung
 *     ones that a train opens itself
 * @param tracks the pieces of track it runs over, in order of travel
 */
public record RoutePath(
    String from,
    String to,
    List<String> sections,
    Map<String, Position> switches,
    List<Track> tracks) {}
