package tappet.bridge.view;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import tappet.layout.Position;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Condition.Occupancy;

/**
 * What trains are called, and where they are. A name follows occupancy: it comes into a section
 * that becomes occupied beside one where it is, over track that lies so, and leaves one that
 * becomes clear. Where that is not certain it stays, and is said to be lost.
 */
final class TrainNames {

  private static final class Called {
    private final Set<String> on = new LinkedHashSet<>();
    private boolean lost;
  }

  /**
   * A train of that name.
   *
   * @param on the sections it is on, from the one it came to first
   * @param lost the last of them has become clear, and no next one occupied
   */
  record Named(String train, List<String> on, boolean lost) {}

  private final TrackPlan plan;
  private final Function<String, Optional<Position>> lies;
  private final Function<String, Optional<String>> before;
  private final Map<String, Called> trains = new LinkedHashMap<>();
  private final Map<String, Occupancy> known = new LinkedHashMap<>();

  /** Sections of which something has been known: what is found there first did not just come. */
  private final Set<String> heard = new LinkedHashSet<>();

  /**
   * @param lies how a switch is detected
   * @param before the section from which the route that holds a section leads into it
   */
  TrainNames(
      TrackPlan plan,
      Function<String, Optional<Position>> lies,
      Function<String, Optional<String>> before) {
    this.plan = plan;
    this.lies = lies;
    this.before = before;
  }

  /** The names of another layout, as far as their sections are here. */
  void goOn(TrainNames before) {
    known.putAll(before.known);
    trains.putAll(before.trains);
    trains.values().forEach(called -> called.on.retainAll(plan.layout().sections().keySet()));
    trains.values().removeIf(called -> called.on.isEmpty());
  }

  /** Every train that has a name, in the order in which they got it. */
  List<Named> all() {
    List<Named> all = new ArrayList<>();
    trains.forEach(
        (train, called) -> all.add(new Named(train, List.copyOf(called.on), called.lost)));
    return all;
  }

  /** The train on a section that has a name. */
  Optional<String> on(String section) {
    return trains.entrySet().stream()
        .filter(train -> train.getValue().on.contains(section))
        .map(Map.Entry::getKey)
        .findFirst();
  }

  /** The train on a section is called so from now on, and nowhere else. */
  void put(String train, String section) {
    Called called = new Called();
    called.on.add(section);
    called.lost = known.get(section) == Occupancy.CLEAR;
    trains.remove(train);
    trains.put(train, called);
  }

  /** A train was called so before the start, and may be there still. */
  void restore(String train, List<String> on, boolean lost) {
    Called called = new Called();
    called.on.addAll(on);
    called.lost = lost;
    trains.putIfAbsent(train, called);
  }

  /** No train is called so any more; false if none was. */
  boolean drop(String train) {
    return trains.remove(train) != null;
  }

  /** What is known of sections now: the trains are followed. */
  void follow(Map<String, Occupancy> now) {
    List<String> entered = changedTo(Occupancy.OCCUPIED, now);
    List<String> left = changedTo(Occupancy.CLEAR, now);
    known.putAll(now);
    entered.forEach(this::enter);
    left.forEach(this::leave);
    now.keySet().stream().filter(id -> now.get(id) != Occupancy.UNKNOWN).forEach(heard::add);
  }

  private List<String> changedTo(Occupancy state, Map<String, Occupancy> now) {
    return now.keySet().stream()
        .filter(section -> now.get(section) == state && known.get(section) != state)
        .toList();
  }

  private void enter(String section) {
    Optional<String> here = on(section);
    if (here.isPresent()) {
      trains.get(here.get()).lost = false;
    } else if (heard.contains(section)) {
      whoEnters(section).ifPresent(train -> move(trains.get(train), section));
    }
  }

  private static void move(Called train, String section) {
    if (train.lost) {
      train.on.clear();
    }
    train.lost = false;
    train.on.add(section);
  }

  private Optional<String> whoEnters(String section) {
    Set<String> beside = new LinkedHashSet<>();
    neighbours(section).forEach(neighbour -> on(neighbour).ifPresent(beside::add));
    return beside.size() > 1
        ? before.apply(section).flatMap(this::on).filter(beside::contains)
        : beside.stream().findFirst();
  }

  private void leave(String section) {
    for (Called train : trains.values()) {
      if (train.on.contains(section)) {
        leave(train, section);
      }
    }
  }

  private static void leave(Called train, String section) {
    if (train.on.size() > 1) {
      train.on.remove(section);
    } else {
      train.lost = true;
    }
  }

  /** The sections into which a train can run from this one, as switches lie. */
  private Set<String> neighbours(String section) {
    Set<String> found = new LinkedHashSet<>();
    for (Track track : plan.tracksIn(section)) {
      if (liesFor(track)) {
        found.addAll(beyond(track, track.from()));
        found.addAll(beyond(track, track.to()));
      }
    }
    found.remove(section);
    return Collections.unmodifiableSet(found);
  }

  private List<String> beyond(Track track, String joint) {
    return plan.onwards(track, joint).stream().filter(this::liesFor).map(Track::section).toList();
  }

  private boolean liesFor(Track track) {
    return track
        .leg()
        .map(leg -> lies.apply(leg.switchId()).equals(Optional.of(leg.position())))
        .orElse(true);
  }
}
