package tappet.simulator;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.layout.Joint;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;

/** The track plan as trains run over it: every track both ways, and what follows at its end. */
final class Rails {

  private final TrackPlan plan;
  private final Map<Track, List<Run>> runs = new LinkedHashMap<>();

  Rails(TrackPlan plan) {
    this.plan = plan;
    var lengths = new RunLengths(plan);
    plan.layout().joints().keySet().stream()
        .flatMap(joint -> plan.tracksAt(joint).stream())
        .forEach(
            track ->
                runs.computeIfAbsent(track, t -> Run.bothWays(t, lengths.of(t), plan.crossing(t))));
    all().forEach(this::addExits);
  }

  /** The runs through {@code section} that head {@code heading}, in the order of the plan. */
  List<Run> through(String section, Heading heading) {
    return all().stream()
        .filter(run -> run.section().equals(section) && heading(run) == heading)
        .toList();
  }

  /** Which way a run heads; one drawn upright heads east from its first joint to its second. */
  Heading heading(Run run) {
    double east = joint(run.towards()).x() - joint(run.from()).x();
    boolean isEast = east == 0 ? run.outwards() : east > 0;
    return isEast ? Heading.EAST : Heading.WEST;
  }

  private List<Run> all() {
    var all = new ArrayList<Run>();
    runs.values().forEach(all::addAll);
    return all;
  }

  private void addExits(Run run) {
    for (Track next : plan.onwards(run.track(), run.towards())) {
      run.add(new Run.Exit(leaving(next, run.towards()), signals(run, next)));
    }
  }

  private Run leaving(Track track, String joint) {
    return runs.get(track).get(track.from().equals(joint) ? 0 : 1);
  }

  private List<String> signals(Run run, Track next) {
    return plan.layout().signals().values().stream()
        .filter(signal -> signal.at().equals(run.towards()))
        .filter(signal -> signal.into().equals(next.section()))
        .filter(signal -> !run.section().equals(next.section()))
        .map(Signal::id)
        .toList();
  }

  private Joint joint(String id) {
    return plan.layout().joints().get(id);
  }
}
