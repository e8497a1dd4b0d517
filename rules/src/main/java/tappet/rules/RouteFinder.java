package tappet.rules;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Finds every way from a signal to the next one: from the track plan alone, whatever a rule file
 * says.
 */
public final class RouteFinder {

  private final TrackPlan plan;
  private final List<RoutePath> found = new ArrayList<>();

  private final Predicate<String> endsAt;

  private RouteFinder(TrackPlan plan, Predicate<String> endsAt) {
    this.plan = plan;
    this.endsAt = endsAt;
  }

  /**
   * Every way from {@code signal} to the next signal or the end of track, in the order of the plan.
   */
  public static List<RoutePath> pathsFrom(Signal signal, TrackPlan plan) {
    return new RouteFinder(plan, joint -> false).from(signal);
  }

  /**
   * Every way from {@code signal} to {@code to}: the next signal, the end of track, or a joint on
   * the way at which a route is to end.
   */
  public static List<RoutePath> pathsBetween(Signal signal, String to, TrackPlan plan) {
    return new RouteFinder(plan, to::equals)
        .from(signal).stream().filter(path -> path.to().equals(to)).toList();
  }

  private List<RoutePath> from(Signal signal) {
    Steps start = new Steps(signal.id(), List.of(), Map.of());
    plan.into(signal.at(), signal.into()).forEach(track -> follow(start, track, signal.at()));
    return found;
  }

  /** What has been run over so far. */
  private record Steps(String from, List<Track> tracks, Map<String, Position> switches) {

    boolean runsOverAgain(Track track) {
      boolean entersAnotherSection =
          tracks.isEmpty() || !tracks.get(tracks.size() - 1).section().equals(track.section());
      return tracks.contains(track)
          || (entersAnotherSection
              && tracks.stream().anyMatch(run -> run.section().equals(track.section())));
    }

    boolean needsOtherPosition(Track track) {
      return track
          .leg()
          .map(leg -> switches.getOrDefault(leg.switchId(), leg.position()) != leg.position())
          .orElse(false);
    }

    /** Over track that no switch has to lie for. */
    Steps past(Track track) {
      List<Track> longer = new ArrayList<>(tracks);
      longer.add(track);
      return new Steps(from, longer, switches);
    }

    Steps over(Track track) {
      Map<String, Position> more = new LinkedHashMap<>(switches);
      track.leg().ifPresent(leg -> more.put(leg.switchId(), leg.position()));
      return new Steps(from, past(track).tracks(), more);
    }

    RoutePath to(String end) {
      List<String> sections = tracks.stream().map(Track::section).distinct().toList();
      return new RoutePath(from, end, sections, switches, tracks);
    }
  }

  private void follow(Steps before, Track track, String enteredAt) {
    if (before.runsOverAgain(track) || before.needsOtherPosition(track) || parts(before, track)) {
      return;
    }
    Steps steps = springsOpen(track, enteredAt) ? before.past(track) : before.over(track);
    String joint = track.otherEnd(enteredAt);
    List<Track> onwards = plan.onwards(track, joint);
    Optional<Signal> next = signalAt(joint, onwards);
    if (next.isPresent()) {
      found.add(steps.to(next.get().id()));
    } else if (onwards.isEmpty() || endsAt.test(joint)) {
      found.add(steps.to(joint));
    } else {
      onwards.forEach(further -> follow(steps, further, joint));
    }
  }

  /** Whether it needs two switches that move together to lie apart. */
  private boolean parts(Steps before, Track track) {
    return track.leg().stream()
        .anyMatch(
            leg ->
                before.switches().entrySet().stream()
                    .anyMatch(
                        other ->
                            number(other.getKey()).equals(number(leg.switchId()))
                                && other.getValue() != leg.position()));
  }

  private String number(String switchId) {
    return plan.layout().switches().get(switchId).number();
  }

  /** Whether a train trails through a sprung switch, which need not lie for it. */
  private boolean springsOpen(Track track, String enteredAt) {
    return track
        .leg()
        .filter(leg -> enteredAt.equals(track.to()))
        .map(leg -> plan.layout().switches().get(leg.switchId()).springsFor(leg.position()))
        .orElse(false);
  }

  private Optional<Signal> signalAt(String joint, List<Track> onwards) {
    return plan.signalsAt(joint).stream()
        .filter(signal -> signal.repeats().isEmpty())
        .filter(signal -> onwards.stream().anyMatch(track -> track.section().equals(signal.into())))
        .findFirst();
  }
}
