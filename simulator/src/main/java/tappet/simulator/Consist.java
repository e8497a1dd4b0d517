package tappet.simulator;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.sentence.Command.End;

/** Where a train lies: the runs under it, and how far its head has come on the foremost. */
final class Consist {

  private double lengthMetres;
  private List<Run> runs;
  private double headMetres;

  /**
   * A train on {@code runs}, the rear one first.
   *
   * @param headMetres from the beginning of the last run
   */
  Consist(double lengthMetres, List<Run> runs, double headMetres) {
    this.lengthMetres = lengthMetres;
    this.runs = new ArrayList<>(runs);
    this.headMetres = headMetres;
  }

  /** Moves the head on; past the end of its run, it must {@link #enter} the next. */
  void roll(double metres) {
    headMetres += metres;
  }

  /** Whether the head has run over the end of its run. */
  boolean isOverEnd() {
    return metresAhead() < 0;
  }

  /** Goes on to the run that follows. */
  void enter(Run next) {
    headMetres -= head().lengthMetres();
    runs.add(next);
  }

  /** Stands with the head at the very end of its run. */
  void stopAtEnd() {
    headMetres = head().lengthMetres();
  }

  /** Gives up the runs that the rear has left. */
  void leaveBehind() {
    while (rearMetres() >= rear().lengthMetres()) {
      runs.remove(0);
    }
  }

  /** Whether the rear hangs over the beginning of the rear run. */
  boolean hangsOver() {
    return rearMetres() < 0;
  }

  /** Lengthens the way under the train to the rear. */
  void reachBackTo(Run before) {
    runs.add(0, before);
  }

  /** Makes the rear the head. */
  void changeEnds() {
    double metresBehind = Math.max(0, rearMetres());
    var turned = new ArrayList<Run>();
    runs.forEach(run -> turned.add(0, run.opposite()));
    runs = turned;
    headMetres = head().lengthMetres() - metresBehind;
  }

  /** The same, heading the other way. */
  Consist turned() {
    Consist turned = copy();
    turned.changeEnds();
    return turned;
  }

  private Consist copy() {
    return new Consist(lengthMetres, runs, headMetres);
  }

  /** Makes one of this and what stands close ahead, heading the same way. */
  void coupleTo(Consist ahead) {
    lengthMetres += ahead.lengthMetres;
    Run joint = head();
    ahead.runs.stream().filter(run -> run != joint).forEach(runs::add);
    headMetres = ahead.headMetres;
  }

  /** The part of it at an end that is so long. */
  Consist part(End end, double metres) {
    Consist part = copy();
    part.shorten(end == End.FRONT ? End.REAR : End.FRONT, lengthMetres - metres);
    return part;
  }

  /** Gives up so much of its length at an end. */
  void shorten(End end, double metres) {
    lengthMetres -= metres;
    if (end == End.FRONT) {
      headMetres -= metres;
    }
    while (headMetres <= Stretch.MEETING_METRES) {
      runs.remove(runs.size() - 1);
      headMetres += head().lengthMetres();
    }
    while (rearMetres() >= rear().lengthMetres() - Stretch.MEETING_METRES) {
      runs.remove(0);
    }
  }

  /** The section under the train so far behind its head. */
  String sectionBehindHead(double metres) {
    int place = runs.size() - 1;
    double onRun = headMetres - metres;
    while (onRun < 0 && place > 0) {
      place--;
      onRun += runs.get(place).lengthMetres();
    }
    return runs.get(place).section();
  }

  /** How much of it stands on a section, in metres. */
  double metresOn(String section) {
    return stretches().stream()
        .filter(stretch -> stretch.run().section().equals(section))
        .mapToDouble(stretch -> stretch.headMetres() - stretch.rearMetres())
        .sum();
  }

  /** The joint between two sections that it stands over, the foremost one. */
  Optional<String> jointUnder() {
    for (int place = runs.size() - 1; place > 0; place--) {
      if (!runs.get(place).section().equals(runs.get(place - 1).section())) {
        return Optional.of(runs.get(place).from());
      }
    }
    return Optional.empty();
  }

  Run head() {
    return runs.get(runs.size() - 1);
  }

  Run rear() {
    return runs.get(0);
  }

  double metresAhead() {
    return head().lengthMetres() - headMetres;
  }

  /**
   * How far the train can roll until it lies on other runs, or comes to foul other legs of switches
   * or no longer does, in metres.
   */
  double metresToChange() {
    double rear = rearMetres();
    double metres = Math.min(metresAhead(), rear().lengthMetres() - rear);
    double toFouling = metresAhead() - Stretch.FOULING_METRES;
    if (isLeg(head()) && !head().outwards() && toFouling >= 0) {
      metres = Math.min(metres, toFouling);
    }
    double toClear = Stretch.FOULING_METRES - rear;
    if (isLeg(rear()) && rear().outwards() && toClear >= 0) {
      metres = Math.min(metres, toClear);
    }
    return metres;
  }

  private static boolean isLeg(Run run) {
    return run.track().leg().isPresent();
  }

  /** Whether a track lies under both trains. */
  boolean sharesTrackWith(Consist other) {
    return runs.stream()
        .anyMatch(
            run -> other.runs.stream().anyMatch(beside -> beside.track().equals(run.track())));
  }

  /** The sections under the train, the rear one first. */
  List<String> sections() {
    return runs.stream().map(Run::section).distinct().toList();
  }

  /** The run by which the train goes on from a joint that it stands over. */
  Optional<Run> onwardsFrom(String joint) {
    for (Run run : runs.subList(1, runs.size())) {
      if (run.from().equals(joint)) {
        return Optional.of(run);
      }
    }
    return Optional.empty();
  }

  /** The stretches under the train, the rear one first. */
  List<Stretch> stretches() {
    var stretches = new ArrayList<Stretch>();
    for (Run run : runs) {
      double rear = run == rear() ? Math.max(0, rearMetres()) : 0;
      double head = run == head() ? headMetres : run.lengthMetres();
      stretches.add(new Stretch(run, rear, head));
    }
    return stretches;
  }

  /** Where the rear is, from the beginning of the rear run. */
  private double rearMetres() {
    double toHead = headMetres;
    for (Run run : runs.subList(0, runs.size() - 1)) {
      toHead += run.lengthMetres();
    }
    return toHead - lengthMetres;
  }
}
