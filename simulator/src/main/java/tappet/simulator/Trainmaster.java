package tappet.simulator;

import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import tappet.layout.Layout;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.source.NearNames;

/** Places trains, lifts them, and tells their engineers what to do. */
final class Trainmaster {

  private final Layout layout;
  private final Trackside trackside;
  private final Traffic traffic;
  private final MishapBook mishaps;
  private final Rails rails;
  private final Placing placing;
  private Duration pause = Engineer.PAUSE;

  Trainmaster(
      Layout layout, Rails rails, Trackside trackside, Traffic traffic, MishapBook mishaps) {
    this.layout = layout;
    this.rails = rails;
    this.trackside = trackside;
    this.traffic = traffic;
    this.mishaps = mishaps;
    this.placing = new Placing(rails, trackside);
  }

  /** Places a train; empty if done, else why not. */
  Optional<String> place(TrainSpec spec) {
    if (traffic.train(spec.name()).isPresent()) {
      return Optional.of("train '%s' is on the track; lift it first".formatted(spec.name()));
    }
    if (!layout.sections().containsKey(spec.section())) {
      return Optional.of(unknown("section", spec.section(), layout.sections().keySet()));
    }
    return placing
        .room(spec)
        .map(room -> place(spec, room))
        .orElseGet(() -> Optional.of(noRoom(spec)));
  }

  private Optional<String> place(TrainSpec spec, Consist room) {
    Optional<String> inTheWay = inTheWay(room);
    if (inTheWay.isPresent()) {
      return Optional.of(
          "train '%s' does not fit in section '%s'; train '%s' is in its way"
              .formatted(spec.name(), spec.section(), inTheWay.get()));
    }
    Train train = new Train(spec, room, trackside, traffic, Traffic.STEP_SECONDS, mishaps);
    train.pause(pause);
    traffic.put(train);
    return Optional.empty();
  }

  private Optional<String> inTheWay(Consist room) {
    return traffic.trains().stream()
        .filter(other -> Traffic.meetingPlace(room, other.consist()).isPresent())
        .map(Train::name)
        .findFirst();
  }

  private static String noRoom(TrainSpec spec) {
    String heading = spec.heading().name().toLowerCase(Locale.ROOT);
    return "train '%s' does not fit; no track of %s m leads %s through section '%s' as the switches lie"
        .formatted(spec.name(), spec.lengthMetres(), heading, spec.section());
  }

  /** Lifts a train off the track; empty if done, else why not. */
  Optional<String> lift(String name) {
    return withTrain(
        name,
        train -> {
          traffic.lift(name);
          return Optional.empty();
        });
  }

  /** Tells a train to run or to halt; empty if done, else why not. */
  Optional<String> tell(Command command) {
    if (command instanceof Command.Run run) {
      return withTrain(run.train(), train -> run(train, run.heading()));
    }
    if (command instanceof Command.Halt halt) {
      return withTrain(halt.train(), Trainmaster::halt);
    }
    return Optional.of("this is no matter for a train; a train can be told to run or to halt");
  }

  private Optional<String> run(Train train, Optional<Heading> towards) {
    if (train.isWrecked()) {
      return Optional.of(
          "train '%s' is wrecked; lift it and place it again".formatted(train.name()));
    }
    if (towards.isPresent() && towards.get() != heading(train)) {
      if (train.isMoving()) {
        return Optional.of("train '%s' is moving; halt it first".formatted(train.name()));
      }
      train.changeEnds();
    }
    train.run();
    return Optional.empty();
  }

  private static Optional<String> halt(Train train) {
    train.halt();
    return Optional.empty();
  }

  /** How long every train stands at an automatic signal at Stop. */
  void pause(Duration longEnough) {
    pause = longEnough;
    traffic.trains().forEach(train -> train.pause(longEnough));
  }

  /** Makes a train's engineer heed the signals, or not. */
  void obeySignals(String name, boolean obey) {
    traffic
        .train(name)
        .orElseThrow(() -> new IllegalArgumentException(unknown("train", name, names())))
        .obeySignals(obey);
  }

  /** What every train does now, in the order in which they were placed. */
  List<TrainState> states() {
    return traffic.trains().stream().map(this::state).toList();
  }

  private TrainState state(Train train) {
    Consist consist = train.consist();
    return new TrainState(
        train.name(),
        train.activity(),
        train.waitsFor(),
        heading(train),
        train.speedMetresPerSecond(),
        consist.sections(),
        consist.head().towards(),
        consist.metresAhead());
  }

  private Heading heading(Train train) {
    return rails.heading(train.consist().head());
  }

  private Optional<String> withTrain(String name, Function<Train, Optional<String>> order) {
    return traffic
        .train(name)
        .map(order)
        .orElseGet(() -> Optional.of(unknown("train", name, names())));
  }

  private List<String> names() {
    return traffic.trains().stream().map(Train::name).toList();
  }

  private static String unknown(String kind, String name, Collection<String> names) {
    String meant = NearNames.meant(name, names, "there is none on this railroad");
    return "there is no %s '%s'; %s".formatted(kind, name, meant);
  }
}
