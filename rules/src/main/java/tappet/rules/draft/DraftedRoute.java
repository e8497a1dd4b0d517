package tappet.rules.draft;

import java.util.Collections;
import java.util.List;
import tappet.layout.Position;
import tappet.layout.Track;
import tappet.rules.RoutePath;

/**
 * A route as it is drafted.
 *
 * @param id {@code from-to}, or that with a number where another route has it already
 * @param path the way it leads over
 * @param end why it ends where it does
 */
record DraftedRoute(String id, RoutePath path, End end) {

  /** Why a route ends where it does. */
  enum End {
    SIGNAL,
    END_OF_TRACK,
    /** Switches or crossings follow that no signal governs this way: a yard, a spur. */
    UNSIGNALLED_LIMITS,
    /** From here on signals stand for the other direction only. */
    SIGNALS_FOR_THE_OTHER_DIRECTION
  }

  /** Whether it has another name than the reader would give it. */
  boolean isNamed() {
    return !id.equals(defaultId(path));
  }

  /** The name that the reader gives to a row without one. */
  static String defaultId(RoutePath path) {
    return path.from() + "-" + path.to();
  }

  /** The piece of track that its train stands on in the end. */
  Track lastTrack() {
    return path.tracks().get(path.tracks().size() - 1);
  }

  boolean runsOver(Track track) {
    return path.tracks().contains(track);
  }

  /** Whether every switch on it lies normal. */
  boolean isStraight() {
    return path.switches().values().stream().allMatch(Position.NORMAL::equals);
  }

  /** Whether the two exclude each other without being told: by a section or a switch. */
  boolean excludes(DraftedRoute other) {
    return sharesSectionWith(other)
        || path.switches().entrySet().stream()
            .anyMatch(
                toe ->
                    other.path.switches().getOrDefault(toe.getKey(), toe.getValue())
                        != toe.getValue());
  }

  boolean sharesSectionWith(DraftedRoute other) {
    List<String> sections = path.sections();
    return !Collections.disjoint(sections, other.path.sections());
  }
}
