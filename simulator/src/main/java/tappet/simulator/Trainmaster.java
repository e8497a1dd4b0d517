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

/** Places trains, lifts them, and tells their engineers and crews what to do. */
final class Trainmaster {

  private final Layout layout;
  private final Trackside trackside;
  private final Traffic traffic;
  private final MishapBook mishaps;
  private final Rails rails;
  private final Placing placing;
  private final Conductor conductor;
  private Duration pause = Engineer.PAUSE;

  Trainmaster(
      Layout layout, Rails rails, Trackside trackside, Traffic traffic, MishapBook mishaps) {
    this.layout = layout;
    this.rails = rails;
    this.trackside = trackside;
    this.traffic = traffic;
    this.mishaps = mishaps;
    this.placing = new Placing(rails, trackside);
    this.conductor = new Conductor(layout, traffic);
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
    Makeup makeup = Makeup.of(spec, layout.trains().carLength());
    traffic.put(train(spec.name(), spec.speedMetresPerSecond(), makeup, room));
    return Optional.empty();
  }

  private Train train(String name, double lineSpeed, Makeup makeup, Consist place) {
    Train train =
        new Train(
            name, lineSpeed, makeup, place, trackside, traffic, Traffic.STEP_SECONDS, mishaps);
    train.pause(pause);
    return train;
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

  /** Tells a train to run, to halt, to pick cars up or to set them out; empty if done. */
  Optional<String> tell(Command command) {
    if (command instanceof Command.Run run) {
      return withTrain(run.train(), train -> run(train, run.heading()));
    }
    if (command instanceof Command.Halt halt) {
      return withTrain(halt.train(), Trainmaster::halt);
    }
    if (command instanceof Command.PickUp order) {
      return withTrain(order.train(), train -> pickUp(train, order));
    }
    if (command instanceof Command.SetOut order) {
      return withTrain(order.train(), train -> setOut(train, order));
    }
    return Optional.of(
        "this is no matter for a train; it can be told to run, to halt, to pick up or to set out");
  }

  private Optional<String> run(Train train, Optional<Heading> towards) {
    Optional<String> whyNot = turn(train, towards);
    if (whyNot.isEmpty()) {
      train.run();
    }
    return whyNot;
  }

  private Optional<String> pickUp(Train train, Command.PickUp order) {
    return withTrain(order.cars(), cars -> whyNotPickedUp(train, cars))
        .or(() -> turn(train, order.heading()))
        .or(
            () -> {
              train.pickUp(order.cars());
              return Optional.empty();
            });
  }

  private static Optional<String> whyNotPickedUp(Train train, Train cars) {
    if (cars == train) {
      return Optional.of("train '%s' cannot pick itself up".formatted(train.name()));
    }
    return cars.isWrecked()
        ? Optional.of("train '%s' is wrecked; lift it".formatted(cars.name()))
        : Optional.empty();
  }

  private Optional<String> setOut(Train train, Command.SetOut order) {
    return conductor.setOut(
        train, order, (name, makeup, place) -> train(name, train.lineSpeed(), makeup, place));
  }

  /** Makes it head that way, if it may run at all. */
  private Optional<String> turn(Train train, Optional<Heading> towards) {
    if (!train.makeup().hasEngine()) {
      return Optional.of("'%s' has no engine; a train must pick it up".formatted(train.name()));
    }
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
    known(name).obeySignals(obey);
  }

  /** Makes a train's brakes fail for good. */
  void loseBrakes(String name) {
    known(name).loseBrakes();
  }

  private Train known(String name) {
    return traffic
        .train(name)
        .orElseThrow(() -> new IllegalArgumentException(unknown("train", name, names())));
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
        consist.metresAhead(),
        train.makeup().hasEngine(),
        train.makeup().cars(),
        conductor.foulOf(consist));
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
