package tappet.rules.draft;

import java.time.Duration;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.layout.Control;
import tappet.layout.GradeCrossing;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/** What a rule file must say of electric locks and grade crossings, as far as the plan tells it. */
final class DraftedDevices {

  private static final String LOCKS =
      """

      # How electric locks are released: when the time has run with every signal over the switch at
      # Stop. Measure it. With 'approach' a lock is released at once while no train can come.
      locks:
      """;

  private static final String CROSSINGS =
      """

      # A road is warned while a train is in one of the approaches and not known to be leaving. Add
      # sections farther out, the farthest first, until the fastest train gives the road its seconds.
      grade crossings:
      """;

  private final TrackPlan plan;
  private final Duration releaseTime;

  /**
   * @param releaseTime of every lock: as long as the longest of the routes
   */
  DraftedDevices(TrackPlan plan, Duration releaseTime) {
    this.plan = plan;
    this.releaseTime = releaseTime;
  }

  /** The last part of the file; empty where the layout has no such device. */
  String text() {
    return lines(
            LOCKS,
            plan.layout().switches().values().stream()
                .filter(this::isLocked)
                .map(this::lock)
                .toList())
        + lines(
            CROSSINGS,
            plan.layout().lineside().crossings().values().stream().map(this::crossing).toList());
  }

  private static String lines(String heading, List<String> rows) {
    return rows.isEmpty()
        ? ""
        : rows.stream().map("  - %s\n"::formatted).collect(Collectors.joining("", heading, ""));
  }

  private boolean isLocked(Switch toe) {
    return toe.control() == Control.RELEASED && toe.number().equals(toe.id());
  }

  private String lock(Switch toe) {
    return "{switch: %s, release time: %d s}".formatted(toe.id(), releaseTime.toSeconds());
  }

  private String crossing(GradeCrossing crossing) {
    return "{crossing: %s, approaches: [%s]}"
        .formatted(
            crossing.id(),
            neighbours(crossing.island()).stream()
                .map("[%s]"::formatted)
                .collect(Collectors.joining(", ")));
  }

  private Set<String> neighbours(String island) {
    Set<String> neighbours = new LinkedHashSet<>();
    for (String joint : plan.layout().joints().keySet()) {
      List<String> meeting = plan.tracksAt(joint).stream().map(Track::section).toList();
      if (meeting.contains(island)) {
        meeting.stream().filter(section -> !section.equals(island)).forEach(neighbours::add);
      }
    }
    return neighbours;
  }
}
