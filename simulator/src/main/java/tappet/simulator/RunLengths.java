package tappet.simulator;

import java.util.function.ToIntFunction;
import java.util.stream.Stream;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Shares the length of a section out among its tracks, so that every way through it has the length
 * the layout gives.
 *
 * <p>A joint inside a section lies as far along as tracks lie before it of all the tracks before
 * and behind it, counted along the longest way. For a joint at the section's edge that is nothing,
 * or the whole.
 */
final class RunLengths {

  private final TrackPlan plan;

  RunLengths(TrackPlan plan) {
    this.plan = plan;
  }

  /** The length of {@code track}, in metres. */
  double of(Track track) {
    double whole = plan.layout().sections().get(track.section()).lengthMetres();
    return whole * (along(track, track.to()) + along(track, track.from()) - 1);
  }

  /** How far along the section {@code joint} lies when one comes to it over {@code track}. */
  private double along(Track track, String joint) {
    int tracks = plan.tracksIn(track.section()).size();
    int before = 1 + longest(besides(track, joint), joint, tracks);
    int behind = beyond(track, joint, tracks);
    return (double) before / (before + behind);
  }

  /** The tracks that come to {@code joint} from the same side as {@code track}, itself too. */
  private Stream<Track> besides(Track track, String joint) {
    return plan.into(joint, track.section()).stream()
        .filter(other -> TrackPlan.sameSide(other, track, joint));
  }

  private int longest(Stream<Track> tracks, String joint, int stepsLeft) {
    return tracks
        .mapToInt(track -> beyond(track, track.otherEnd(joint), stepsLeft - 1))
        .max()
        .orElse(0);
  }

  /**
   * How many tracks of its section follow {@code track} beyond {@code joint} at most.
   *
   * @param stepsLeft ends the count where the tracks of a section form a ring
   */
  private int beyond(Track track, String joint, int stepsLeft) {
    ToIntFunction<Track> withNext = next -> 1 + beyond(next, next.otherEnd(joint), stepsLeft - 1);
    return stepsLeft <= 0
        ? 0
        : plan.onwards(track, joint).stream()
            .filter(next -> next.section().equals(track.section()))
            .mapToInt(withNext)
            .max()
            .orElse(0);
  }
}
