package tappet.rules.draft;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import tappet.layout.Position;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.rules.RoutePath;
import tappet.rules.draft.Stretch.Pass;

/**
 * A route as it is drafted.
 *
 * @param id {@code from-to}, or that with a number where another route has it already
 * @param path the way it leads over
 * @param numbers how it wants what moves together to lie, by number
 * @param end why it ends where it does
 */
record DraftedRoute(String id, RoutePath path, Map<String, Position> numbers, End end) {

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
        || numbers.entrySet().stream()
            .anyMatch(
                number ->
                    other.numbers.getOrDefault(number.getKey(), number.getValue())
                        != number.getValue());
  }

  /** Each piece of track on it with the joint by which its train comes onto it. */
  List<Pass> passes(TrackPlan plan) {
    List<Pass> passes = new ArrayList<>();
    String joint = plan.layout().signals().get(path.from()).at();
    for (Track track : path.tracks()) {
      passes.add(new Pass(track, joint));
      joint = track.otherEnd(joint);
    }
    return passes;
  }

  boolean sharesSectionWith(DraftedRoute other) {
    List<String> sections = path.sections();
    return !Collections.disjoint(sections, other.path.sections());
  }
}
