package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Where a train that passes a signal would run to, over the track plan and as the switches lie:
 * written apart from the rules, for tests that hold signals against it.
 */
final class WayAhead {

  /** Whether a train that comes from a joint can run over a piece of track, as switches lie. */
  @FunctionalInterface
  interface Passable {
    boolean isOpen(Track track, String from);
  }

  /** What must be so, and what is told where it is not. */
  @FunctionalInterface
  interface Requirement {
    void require(boolean holds, String violation);
  }

  /**
   * A way.
   *
   * @param tracks the pieces of track run over, in order of travel
   * @param end the joint where the next signal stands, or the track or its signals end
   */
  record Way(List<Track> tracks, String end) {}

  private final TrackPlan plan;
  private final Predicate<String> limit;
  private final Passable passable;
  private final Requirement requirement;

  /**
   * @param limit tells a joint where signalled track ends without a signal
   */
  WayAhead(TrackPlan plan, Predicate<String> limit, Passable passable, Requirement requirement) {
    this.plan = plan;
    this.limit = limit;
    this.passable = passable;
    this.requirement = requirement;
  }

  /** The way from a signal to the next one; exactly one must be open at each switch. */
  Way from(Signal signal) {
    List<Track> tracks = new ArrayList<>();
    String at = signal.at();
    List<Track> ahead = plan.into(at, signal.into());
    while (!ahead.isEmpty() && (tracks.isEmpty() || !endsAt(at, ahead))) {
      Track over = open(signal, at, ahead);
      tracks.add(over);
      at = over.otherEnd(at);
      ahead = plan.onwards(over, at);
    }
    return new Way(tracks, at);
  }

  private boolean endsAt(String joint, List<Track> ahead) {
    return limit.test(joint)
        || plan.signalsAt(joint).stream()
            .anyMatch(
                signal -> ahead.stream().anyMatch(track -> track.section().equals(signal.into())));
  }

  private Track open(Signal signal, String from, List<Track> ahead) {
    var open = ahead.stream().filter(track -> passable.isOpen(track, from)).toList();
    requirement.require(
        open.size() == 1, signal.id() + " proceeds over a switch that does not lie: " + ahead);
    return open.get(0);
  }
}
