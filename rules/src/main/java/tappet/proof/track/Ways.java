package tappet.proof.track;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Signal;
import tappet.layout.SignalKind;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Every way that a signal can send a train, from the track plan alone and whatever any rule says.
 *
 * <p>A way ends at the next signal that faces the train. Where no signal faces it any more, its
 * authority reaches through the section beyond the last opposing signal: there a train waits that
 * is to come back. Where there is none, it reaches to the end of track.
 */
final class Ways {

  private final TrackPlan plan;
  private final Map<String, List<Way>> from = new LinkedHashMap<>();

  Ways(TrackPlan plan) {
    this.plan = plan;
    for (Signal signal : plan.layout().signals().values()) {
      if (signal.repeats().isEmpty()) {
        from.put(signal.id(), List.copyOf(waysFrom(signal)));
      }
    }
  }

  /** The ways from a signal; none from a repeater. */
  List<Way> from(String signal) {
    return from.getOrDefault(signal, List.of());
  }

  /** All ways, signal by signal. */
  List<Way> all() {
    return from.values().stream().flatMap(List::stream).toList();
  }

  /** A train on its way, having come to a joint. */
  private record Run(List<Track> tracks, List<Track.Leg> legs, String at) {

    Optional<Run> over(Track track, boolean springsOpen) {
      boolean comesBack =
          tracks.stream().anyMatch(run -> run.section().equals(track.section()))
              && !last().section().equals(track.section());
      boolean liesOtherwise =
          track.leg().stream().anyMatch(leg -> legs.stream().anyMatch(one -> differ(one, leg)));
      if (comesBack || liesOtherwise || tracks.contains(track)) {
        return Optional.empty();
      }
      List<Track> longer = new ArrayList<>(tracks);
      longer.add(track);
      List<Track.Leg> more = new ArrayList<>(legs);
      track.leg().filter(leg -> !springsOpen).ifPresent(more::add);
      return Optional.of(new Run(longer, more, track.otherEnd(at)));
    }

    private static boolean differ(Track.Leg one, Track.Leg other) {
      return one.switchId().equals(other.switchId()) && one.position() != other.position();
    }

    Track last() {
      return tracks.get(tracks.size() - 1);
    }
  }

  private Set<Way> waysFrom(Signal signal) {
    Set<Way> ways = new LinkedHashSet<>();
    Run start = new Run(List.of(), List.of(), signal.at());
    plan.into(signal.at(), signal.into()).forEach(track -> follow(signal, start, track, ways));
    return ways;
  }

  private void follow(Signal signal, Run before, Track track, Set<Way> ways) {
    Optional<Run> further = before.over(track, springsOpen(track, before.at()));
    if (further.isEmpty()) {
      return;
    }
    Run run = further.get();
    List<Track> onwards = plan.onwards(track, run.at());
    Optional<Signal> next = facing(run.at(), onwards);
    if (next.isPresent()) {
      ways.add(new Way(signal, run.tracks(), run.legs(), next));
    } else if (onwards.isEmpty()) {
      ways.add(asFarAsAuthorityReaches(signal, run));
    } else {
      onwards.forEach(onward -> follow(signal, run, onward, ways));
    }
  }

  private Way asFarAsAuthorityReaches(Signal signal, Run run) {
    int last = lastOfAuthority(signal, run.tracks());
    List<Track> tracks = run.tracks().subList(0, last + 1);
    List<Track.Leg> legs =
        run.legs().stream()
            .filter(leg -> tracks.stream().anyMatch(track -> track.leg().equals(Optional.of(leg))))
            .toList();
    return new Way(signal, tracks, legs, Optional.empty());
  }

  /** The last track of the section that follows the last opposing signal. */
  private int lastOfAuthority(Signal signal, List<Track> tracks) {
    int end = tracks.size() - 1;
    String joint = signal.at();
    for (int index = 0; index + 1 < tracks.size(); index++) {
      joint = tracks.get(index).otherEnd(joint);
      if (facing(joint, List.of(tracks.get(index))).filter(Ways::isAbsolute).isPresent()) {
        end = index + 1;
      }
    }
    while (end + 1 < tracks.size()
        && tracks.get(end + 1).section().equals(tracks.get(end).section())) {
      end++;
    }
    return end;
  }

  private static boolean isAbsolute(Signal signal) {
    return signal.kind() != SignalKind.AUTOMATIC;
  }

  /** The signal at a joint that leads onto one of some tracks. */
  private Optional<Signal> facing(String joint, List<Track> onto) {
    return plan.signalsAt(joint).stream()
        .filter(signal -> signal.repeats().isEmpty())
        .filter(signal -> onto.stream().anyMatch(track -> track.section().equals(signal.into())))
        .findFirst();
  }

  /** Whether a train trails through a sprung switch, which need not lie for it. */
  private boolean springsOpen(Track track, String enteredAt) {
    return enteredAt.equals(track.to())
        && track.leg().stream()
            .anyMatch(
                leg -> plan.layout().switches().get(leg.switchId()).springsFor(leg.position()));
  }
}
