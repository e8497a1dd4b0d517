package tappet.proof.track;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/** Where a train stands that can come to a signal without passing another one that faces it. */
final class Approach {

  private final TrackPlan plan;
  private final Set<Track> seen = new LinkedHashSet<>();

  private Approach(TrackPlan plan) {
    this.plan = plan;
  }

  /** The sections in rear of a signal, back to the signals before it or to the end of track. */
  static List<String> of(Signal signal, TrackPlan plan) {
    Approach approach = new Approach(plan);
    plan.into(signal.at(), signal.into())
        .forEach(
            track ->
                plan.onwards(track, signal.at())
                    .forEach(back -> approach.follow(back, signal.at())));
    return approach.seen.stream().map(Track::section).distinct().toList();
  }

  private void follow(Track back, String from) {
    if (!seen.add(back)) {
      return;
    }
    String joint = back.otherEnd(from);
    boolean signalled =
        plan.signalsAt(joint).stream()
            .anyMatch(signal -> signal.repeats().isEmpty() && signal.into().equals(back.section()));
    if (!signalled) {
      plan.onwards(back, joint).forEach(further -> follow(further, joint));
    }
  }
}
