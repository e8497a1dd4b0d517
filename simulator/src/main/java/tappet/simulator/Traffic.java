package tappet.simulator;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import tappet.layout.Track;

/**
 * The trains on the road, moved on in steps of {@value #STEP_NS} ns at fixed times, so that it does
 * not matter how often one asks. While everything stands still no step is taken.
 *
 * <p>Most steps are quiet: trains roll on, and nobody but their engineers can tell. How many quiet
 * steps are to come is foreseen, and nothing is due before they are over; they are made up for when
 * something is. A step that is taken in full where a quiet one would do makes no difference.
 */
final class Traffic implements Lookout {

  static final long STEP_NS = 20_000_000;
  static final double STEP_SECONDS = STEP_NS / 1e9;

  private final Trackside trackside;
  private final MishapBook mishaps;
  private final Map<String, Train> trains = new LinkedHashMap<>();
  private OptionalLong stepDueNs = OptionalLong.empty();

  /** How many of the steps to come are quiet, while nothing is done to the railway. */
  private long quietSteps;

  private boolean foreseen = true;

  Traffic(Trackside trackside, MishapBook mishaps) {
    this.trackside = trackside;
    this.mishaps = mishaps;
  }

  /** Something has changed that a train may have waited for. */
  void wake(long nowNs) {
    lookAgain();
    if (stepDueNs.isEmpty() && !trains.isEmpty()) {
      stepDueNs = OptionalLong.of(nextStepNs(nowNs));
    }
  }

  private static long nextStepNs(long nowNs) {
    return (Math.floorDiv(nowNs, STEP_NS) + 1) * STEP_NS;
  }

  /** When the next step is due that is not quiet. */
  OptionalLong deadlineNs() {
    if (stepDueNs.isEmpty()) {
      return stepDueNs;
    }
    if (!foreseen) {
      quietSteps = new Foresight(trains.values(), STEP_SECONDS).quietSteps();
      foreseen = true;
    }
    return OptionalLong.of(stepDueNs.getAsLong() + quietSteps * STEP_NS);
  }

  /** Something was done to the railway, which the next step will show: it is not quiet. */
  void lookAgain() {
    quietSteps = 0;
    foreseen = true;
  }

  /** Takes the quiet steps that are due by {@code nowNs}. */
  void makeUpBy(long nowNs) {
    while (quietSteps > 0 && stepDueNs.getAsLong() <= nowNs) {
      trains.values().stream().filter(Train::isMoving).forEach(this::advance);
      stepDueNs = OptionalLong.of(stepDueNs.getAsLong() + STEP_NS);
      quietSteps--;
    }
  }

  /** Takes the step that is due at {@code nowNs}, if one is. */
  void advance(long nowNs) {
    if (stepDueNs.isPresent() && stepDueNs.getAsLong() <= nowNs) {
      mishaps.turnTo(nowNs);
      step(nowNs);
      foreseen = false;
      stepDueNs = isStill() ? OptionalLong.empty() : OptionalLong.of(nextStepNs(nowNs));
    }
  }

  void put(Train train) {
    trains.put(train.name(), train);
    trackside.see(sectionsUnderTrains());
  }

  void lift(String train) {
    trains.remove(train);
    trackside.see(sectionsUnderTrains());
  }

  Optional<Train> train(String name) {
    return Optional.ofNullable(trains.get(name));
  }

  Collection<Train> trains() {
    return trains.values();
  }

  private boolean isStill() {
    return trains.values().stream().allMatch(Train::isStill);
  }

  private void step(long nowNs) {
    trains.values().forEach(this::advance);
    List.copyOf(trains.values()).forEach(this::couple);
    trackside.press(trailedThrough(), nowNs);
    trains.values().forEach(train -> mindSwitches(train, nowNs));
    trains.values().forEach(this::mindOpenings);
    mindEachOther(new ArrayList<>(trains.values()));
    trackside.see(sectionsUnderTrains());
    trackside.gear().see(trains.values().stream().map(Train::consist).toList());
  }

  /** Without power under its engine a train stands. */
  private void advance(Train train) {
    if (trackside.gear().hasPower(train.sectionUnderEngine())) {
      train.advance(STEP_SECONDS);
    } else {
      train.losePower();
    }
  }

  private void mindOpenings(Train train) {
    if (!train.isWrecked() && trackside.gear().anyOpen()) {
      trackside
          .gear()
          .gapUnder(train.consist().sections())
          .ifPresent(opening -> mishaps.ranIntoGap(train, opening));
    }
  }

  /** The sprung switches that wheels of a train hold open. */
  private Set<String> trailedThrough() {
    Set<String> open = new LinkedHashSet<>();
    for (Train train : trains.values()) {
      for (Stretch stretch : train.consist().stretches()) {
        stretch.fouled().filter(trackside::springsFor).ifPresent(leg -> open.add(leg.switchId()));
      }
    }
    return open;
  }

  private void mindSwitches(Train train, long nowNs) {
    for (Stretch stretch : train.consist().stretches()) {
      if (!train.isWrecked()) {
        stretch.fouled().ifPresent(leg -> mind(train, stretch.run(), leg, nowNs));
      }
    }
  }

  private void mind(Train train, Run run, Track.Leg leg, long nowNs) {
    if (trackside.liesFor(leg)) {
      return;
    }
    boolean trailing = !run.outwards();
    boolean lies = trackside.switchLies(leg.switchId()).isPresent();
    if (trailing && lies && !trackside.isDerail(leg)) {
      mishaps.ranThrough(train, leg);
      trackside.breakThrough(leg, nowNs);
    } else {
      mishaps.derailed(train, leg);
    }
  }

  private void mindEachOther(List<Train> all) {
    for (int one = 0; one < all.size(); one++) {
      for (int other = one + 1; other < all.size(); other++) {
        mind(all.get(one), all.get(other));
      }
    }
  }

  private void mind(Train one, Train other) {
    if (!one.isWrecked() || !other.isWrecked()) {
      meetingPlace(one.consist(), other.consist())
          .ifPresent(section -> mishaps.collided(one, other, section));
    }
  }

  /** A train that has come to what it is told to couple to is one with it from now on. */
  private void couple(Train train) {
    boolean isThere = trains.get(train.name()) == train; // none may have just coupled to it
    if (isThere && train.couplesTo().isPresent() && train.mayCouple()) {
      ahead(train.consist(), Stretch.MEETING_METRES)
          .filter(Sighting::canBeCoupledTo)
          .filter(sighting -> train.couplesTo().equals(Optional.of(sighting.train())))
          .ifPresent(sighting -> couple(train, trains.remove(sighting.train())));
    }
  }

  private void couple(Train train, Train other) {
    Run head = train.consist().head();
    Run rear = other.consist().rear();
    boolean sameWay =
        rear == head || trackside.beyond(head).filter(exit -> exit.run() == rear).isPresent();
    train.coupleTo(
        sameWay ? other.makeup() : other.makeup().turned(),
        sameWay ? other.consist() : other.consist().turned());
  }

  @Override
  public Optional<Sighting> ahead(Consist consist, double sightMetres) {
    Optional<Run> run = Optional.of(consist.head());
    double begins = consist.metresAhead() - consist.head().lengthMetres();
    while (run.isPresent() && begins < sightMetres) {
      Optional<Sighting> nearest = nearestOn(run.get(), begins, consist);
      if (nearest.isPresent()) {
        return nearest.filter(train -> train.metres() < sightMetres);
      }
      begins += run.get().lengthMetres();
      run = run.flatMap(trackside::beyond).map(Run.Exit::run);
    }
    return Optional.empty();
  }

  /**
   * @param begins how far ahead of the train's head the run begins; below 0 where it is behind
   */
  private Optional<Sighting> nearestOn(Run run, double begins, Consist consist) {
    List<Sighting> sightings = new ArrayList<>();
    for (Train other : trains.values()) {
      if (other.consist() != consist) {
        sight(run, begins, other, sightings);
      }
    }
    return sightings.stream().min(Comparator.comparingDouble(Sighting::metres));
  }

  private static void sight(Run run, double begins, Train other, List<Sighting> sightings) {
    boolean stands = !other.isMoving() && !other.isWrecked();
    for (Stretch stretch : other.consist().stretches()) {
      boolean inLine = stretch.run().track().equals(run.track());
      stretch.reachedAlong(run).stream()
          .map(along -> begins + along)
          .filter(metres -> metres > -Stretch.MEETING_METRES)
          .map(metres -> Math.max(0, metres))
          .forEach(metres -> sightings.add(new Sighting(other.name(), metres, stands && inLine)));
    }
  }

  /** The section in which two trains touch. */
  static Optional<String> meetingPlace(Consist one, Consist other) {
    for (Stretch stretch : one.stretches()) {
      if (other.stretches().stream().anyMatch(stretch::touches)) {
        return Optional.of(stretch.run().section());
      }
    }
    return Optional.empty();
  }

  private Set<String> sectionsUnderTrains() {
    var sections = new LinkedHashSet<String>();
    trains.values().forEach(train -> sections.addAll(train.consist().sections()));
    return sections;
  }
}
