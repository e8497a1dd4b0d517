package tappet.rules.draft;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Position;
import tappet.layout.SignalKind;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;

/**
 * Track between control points, which leaves trains no choice: plain, or over switches that a hand
 * throws, where they lie normal. It reaches both ways to where a motor moves a switch, tracks
 * cross, track ends, or a signal stands that is not automatic.
 *
 * @param passes its pieces of track as one runs over them eastward, to the right of the plan
 */
record Stretch(List<Pass> passes) {

  /** A piece of track, and the joint by which one comes onto it. */
  record Pass(Track track, String from) {

    String to() {
      return track.otherEnd(from);
    }

    Pass back() {
      return new Pass(track, to());
    }

    /** Whether both run the same way, or part or meet at a switch while they do. */
    private boolean runsWith(Pass other) {
      return track.section().equals(other.track.section())
          && (from.equals(other.from) || to().equals(other.to()));
    }
  }

  /** The stretch that {@code track} is part of; empty where it is part of none, or of a circle. */
  static Optional<Stretch> around(Track track, TrackPlan plan) {
    if (!leavesNoChoice(track, plan)) {
      return Optional.empty();
    }
    Pass oneEnd = last(onwards(new Pass(track, track.to()), plan)).back();
    List<Pass> passes = onwards(oneEnd, plan);
    Pass otherEnd = last(passes);
    if (beyond(otherEnd, plan).isPresent()) {
      return Optional.empty();
    }
    boolean eastward = across(oneEnd.from(), plan) <= across(otherEnd.to(), plan);
    return Optional.of(new Stretch(eastward ? passes : onwards(otherEnd.back(), plan)));
  }

  /** Its sections, from west to east. */
  Set<String> sections() {
    Set<String> sections = new LinkedHashSet<>();
    passes.forEach(pass -> sections.add(pass.track().section()));
    return sections;
  }

  /** The ways that {@code pass} runs over it; none where it leads elsewhere. */
  Set<Heading> headingsOf(Pass pass) {
    Set<Heading> headings = EnumSet.noneOf(Heading.class);
    if (passes.stream().anyMatch(pass::runsWith)) {
      headings.add(Heading.EAST);
    }
    if (passes.stream().anyMatch(pass.back()::runsWith)) {
      headings.add(Heading.WEST);
    }
    return headings;
  }

  private static double across(String joint, TrackPlan plan) {
    return plan.layout().joints().get(joint).x();
  }

  private static Pass last(List<Pass> passes) {
    return passes.get(passes.size() - 1);
  }

  private static List<Pass> onwards(Pass start, TrackPlan plan) {
    List<Pass> passes = new ArrayList<>();
    Set<Track> seen = new LinkedHashSet<>();
    Optional<Pass> next = Optional.of(start);
    while (next.isPresent() && seen.add(next.get().track())) {
      passes.add(next.get());
      next = next.flatMap(pass -> beyond(pass, plan));
    }
    return passes;
  }

  private static Optional<Pass> beyond(Pass pass, TrackPlan plan) {
    return plan.onwards(pass.track(), pass.to()).stream()
        .filter(track -> leavesNoChoice(track, plan))
        .map(track -> new Pass(track, pass.to()))
        .filter(next -> !controlled(pass, next, plan))
        .findFirst();
  }

  private static boolean controlled(Pass pass, Pass next, TrackPlan plan) {
    List<String> sections = List.of(pass.track().section(), next.track().section());
    return plan.signalsAt(next.from()).stream()
        .filter(signal -> signal.repeats().isEmpty() && sections.contains(signal.into()))
        .anyMatch(signal -> signal.kind() != SignalKind.AUTOMATIC);
  }

  private static boolean leavesNoChoice(Track track, TrackPlan plan) {
    return plan.crossing(track).isEmpty()
        && track.leg().map(leg -> leg.position() == Position.NORMAL).orElse(true)
        && plan.tracksIn(track.section()).stream()
            .flatMap(other -> other.leg().stream())
            .map(leg -> plan.layout().switches().get(leg.switchId()))
            .noneMatch(toe -> toe.control().hasMotor());
  }
}
