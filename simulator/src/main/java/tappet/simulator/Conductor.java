package tappet.simulator;

import java.util.Optional;
import tappet.layout.Layout;
import tappet.layout.Section;
import tappet.layout.Track;
import tappet.sentence.Command;
import tappet.sentence.Command.End;

/** Sets cars out where they may be left: on plain track, clear of the joints at its ends. */
final class Conductor {

  private static final double ROUNDING = 1e-6;

  private final Layout layout;
  private final Traffic traffic;

  Conductor(Layout layout, Traffic traffic) {
    this.layout = layout;
    this.traffic = traffic;
  }

  /** The cars at one end of a standing train, where they stand. */
  private record Cut(End end, int count, String section, Consist place) {}

  /**
   * Leaves cars behind.
   *
   * @param asNew makes a train of them
   * @return empty if done, else why not
   */
  Optional<String> setOut(Train train, Command.SetOut order, CutMaker asNew) {
    return whyNotNow(train, order)
        .or(() -> whyNotThere(train, order))
        .or(() -> leave(train, order, asNew));
  }

  /** Makes a train of cars. */
  @FunctionalInterface
  interface CutMaker {
    Train make(String name, Makeup makeup, Consist place);
  }

  private Optional<String> whyNotNow(Train train, Command.SetOut order) {
    if (layout.trains().carLength().isEmpty()) {
      return Optional.of(
          "the layout file does not say how long a car is; add 'car length' under 'trains'");
    }
    if (traffic.train(order.cars()).isPresent()) {
      return Optional.of(
          "train '%s' is on the track; give the cars another name".formatted(order.cars()));
    }
    if (train.isWrecked()) {
      return Optional.of("train '%s' is wrecked".formatted(train.name()));
    }
    return train.isMoving()
        ? Optional.of("train '%s' is moving; halt it first".formatted(train.name()))
        : Optional.empty();
  }

  private Optional<String> whyNotThere(Train train, Command.SetOut order) {
    Optional<End> end = end(train, order);
    if (end.isEmpty()) {
      return Optional.of(
          "train '%s' can leave cars at either end; say %d front cars, or %d rear cars"
              .formatted(train.name(), order.count(), order.count()));
    }
    int most = train.makeup().carsAt(end.get());
    return order.count() > most
        ? Optional.of(
            "train '%s' can leave no more than %s at its %s"
                .formatted(train.name(), cars(most), end.get().word()))
        : whyNotLeft(cut(train, order, end.get()), train);
  }

  private static Optional<End> end(Train train, Command.SetOut order) {
    return order.end().or(train.makeup()::endWithoutEngine);
  }

  private static Cut cut(Train train, Command.SetOut order, End end) {
    double metres = train.makeup().part(end, order.count()).lengthMetres();
    Consist place = train.consist().part(end, metres);
    Run outermost = end == End.FRONT ? place.head() : place.rear();
    return new Cut(end, order.count(), outermost.section(), place);
  }

  private Optional<String> whyNotLeft(Cut cut, Train train) {
    Section section = layout.sections().get(cut.section());
    int room = layout.capacity(section).orElseThrow();
    if (room == 0) {
      return Optional.of("%s has room for no car clear of its joints".formatted(section.name()));
    }
    int taken = carsOn(section, train);
    if (cut.count() > room - taken) {
      String besides = taken == 0 ? "" : ", and %d stand there".formatted(taken);
      return Optional.of(
          "%s do not fit on %s: it has room for %s clear of its joints%s"
              .formatted(cars(cut.count()), section.name(), cars(room), besides));
    }
    return foulOf(cut.place())
        .map(
            what ->
                "%s would stand foul of %s; %s has room for %s clear of its joints: move the train"
                    .formatted(cars(cut.count()), what, section.name(), cars(room - taken)));
  }

  /** How much room others take, in cars. */
  private int carsOn(Section section, Train but) {
    double metres =
        traffic.trains().stream()
            .filter(other -> other != but)
            .mapToDouble(other -> other.consist().metresOn(section.id()))
            .sum();
    return (int) Math.ceil(metres / layout.trains().carLength().orElseThrow() - ROUNDING);
  }

  private static String cars(int count) {
    return count == 1 ? "1 car" : count + " cars";
  }

  private Optional<String> leave(Train train, Command.SetOut order, CutMaker asNew) {
    Cut cut = cut(train, order, end(train, order).orElseThrow());
    Makeup left = train.makeup().part(cut.end(), cut.count());
    train.leave(cut.end(), cut.count());
    traffic.put(asNew.make(order.cars(), left, cut.place()));
    return Optional.empty();
  }

  /** The joint that something stands over, or the switch whose other leg it is in the way of. */
  Optional<String> foulOf(Consist consist) {
    return consist
        .jointUnder()
        .map(joint -> "joint " + joint)
        .or(
            () ->
                consist.stretches().stream()
                    .flatMap(stretch -> stretch.fouled().stream())
                    .findFirst()
                    .map(this::name));
  }

  private String name(Track.Leg leg) {
    return layout.switches().get(leg.switchId()).name();
  }
}
