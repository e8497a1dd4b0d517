package tappet.layout;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.source.Place;
import tappet.source.Problems;

/** Checks that tracks whose names are all right also make a railroad. */
final class PlanCheck {

  private final Layout layout;
  private final TrackPlan plan;
  private final Set<String> crossed;
  private final Set<String> switched;
  private final Map<String, Place> intoPlaces;
  private final Problems problems;

  /**
   * A check of {@code layout}.
   *
   * @param intoPlaces where each signal says which section it leads into
   */
  PlanCheck(Layout layout, Map<String, Place> intoPlaces, Problems problems) {
    this.layout = layout;
    this.plan = new TrackPlan(layout);
    this.switched =
        layout.switches().values().stream().map(Switch::section).collect(Collectors.toSet());
    this.crossed =
        layout.diamonds().values().stream().map(Diamond::section).collect(Collectors.toSet());
    this.intoPlaces = intoPlaces;
    this.problems = problems;
  }

  void check() {
    layout.sections().values().forEach(this::checkSection);
    layout.joints().values().forEach(this::checkJoint);
    layout.signals().values().forEach(this::checkSignal);
    layout.signals().values().forEach(this::checkRepeater);
    checkOneSignalEachWay();
    new PairCheck(layout, problems).check();
    layout.diamonds().values().forEach(new CrossingCheck(layout.joints(), problems)::check);
  }

  private void checkSection(Section section) {
    if (section.between().isEmpty()
        && !switched.contains(section.id())
        && !crossed.contains(section.id())) {
      problems.add(
          section.place(),
          "section '%s' has neither 'between' nor a switch".formatted(section.id()),
          "add for example 'between: [j1, j2]', or a switch with 'section: %s'"
              .formatted(section.id()));
    }
  }

  private void checkJoint(Joint joint) {
    var sides = plan.sides(joint.id());
    if (sides.isEmpty()) {
      problems.add(
          joint.place(),
          "no track leads to joint '%s'".formatted(joint.id()),
          "remove it, or name it in a section or switch");
    }
    if (sides.size() > 2) {
      problems.add(
          joint.place(),
          "%d tracks meet at joint '%s': %s".formatted(sides.size(), joint.id(), told(sides)),
          "a joint has two sides; where more tracks meet there is a switch");
    }
  }

  private static String told(List<Track> tracks) {
    return tracks.stream().map(PlanCheck::told).collect(Collectors.joining(", "));
  }

  private static String told(Track track) {
    return track
        .leg()
        .map(leg -> "switch '%s'".formatted(leg.switchId()))
        .orElseGet(() -> "section '%s'".formatted(track.section()));
  }

  private void checkSignal(Signal signal) {
    var ways =
        plan.sides(signal.at()).stream()
            .filter(side -> side.section().equals(signal.into()))
            .count();
    var place = intoPlaces.get(signal.id());
    if (ways == 0) {
      problems.add(
          place,
          "section '%s' has no track at joint '%s'".formatted(signal.into(), signal.at()),
          "the track there is in " + sectionsAt(signal.at()));
    }
    if (ways > 1) {
      problems.add(
          place,
          "both sides of joint '%s' are in section '%s'".formatted(signal.at(), signal.into()),
          "a signal stands where two sections meet");
    }
  }

  /** What repeats a repeater could tell of a signal that nobody there can see. */
  private void checkRepeater(Signal signal) {
    signal
        .repeats()
        .map(layout.signals()::get)
        .filter(repeated -> repeated.repeats().isPresent())
        .ifPresent(
            repeated ->
                problems.add(
                    signal.place(),
                    "signal '%s' repeats '%s', which is a repeater itself"
                        .formatted(signal.id(), repeated.id()),
                    "write 'repeats: %s'".formatted(repeated.repeats().orElseThrow())));
  }

  private String sectionsAt(String joint) {
    return plan.sides(joint).stream()
        .map(track -> "'%s'".formatted(track.section()))
        .distinct()
        .collect(Collectors.joining(" and "));
  }

  private void checkOneSignalEachWay() {
    Map<List<String>, Signal> first = new LinkedHashMap<>();
    for (Signal signal : layout.signals().values()) {
      var earlier = first.putIfAbsent(List.of(signal.at(), signal.into()), signal);
      if (earlier != null) {
        problems.add(
            signal.place(),
            "signal '%s' stands where signal '%s' does, in line %d"
                .formatted(signal.id(), earlier.id(), earlier.place().line()),
            "one signal governs a joint each way");
      }
    }
  }
}
