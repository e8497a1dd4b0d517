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

  /** Makes a train of cars. */
  @FunctionalInterface
  interface CutMaker {
    Train make(String name, Makeup makeup, Consist place);
  }

  /**
   * Leaves cars behind where the train stands.
   *
   * @param asNew makes a train of them
   * @return empty if done, else why not
   */
  Optional<String> setOut(Train train, Command.SetOut order, CutMaker asNew) {
    return whyNotNow(train, order).or(() -> setOutAtAnEnd(train, order, asNew));
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

  private Optional<String> setOutAtAnEnd(Train train, Command.SetOut order, CutMaker asNew) {
    return order
        .end()
        .or(train.makeup()::endWithoutEngine)
        .map(end -> setOutAt(end, train, order, asNew))
        .orElseGet(
            () ->
                Optional.of(
                    "train '%s' can leave cars at either end; say front or rear"
                        .formatted(train.name())));
  }

  private Optional<String> setOutAt(End end, Train train, Command.SetOut order, CutMaker asNew) {
    int most = train.makeup().carsAt(end);
    if (order.count() > most) {
      return Optional.of(
          "train '%s' can leave no more than %s at its %s"
              .formatted(train.name(), cars(most), end.word()));
    }
    Makeup cut = train.makeup().part(end, order.count());
    Consist place = train.consist().part(end, cut.lengthMetres());
    Run outermost = end == End.FRONT ? place.head() : place.rear();
    Optional<String> whyNot = whyNotLeft(order.count(), place, outermost.section(), train);
    if (whyNot.isEmpty()) {
      train.leave(end, order.count());
      traffic.put(asNew.make(order.cars(), cut, place));
    }
    return whyNot;
  }

  /**
   * @param place where the cars would stand
   * @param on the section they are meant to stand on
   */
  private Optional<String> whyNotLeft(int count, Consist place, String on, Train train) {
    Section section = layout.sections().get(on);
    int room = layout.capacity(section).orElseThrow();
    if (room == 0) {
      return Optional.of("%s has room for no car clear of its joints".formatted(section.name()));
    }
    int taken = carsOn(section, train);
    if (count > room - taken) {
      String besides = taken == 0 ? "" : ", and %d stand there".formatted(taken);
      return Optional.of(
          "%s do not fit on %s: it has room for %s clear of its joints%s"
              .formatted(cars(count), section.name(), cars(room), besides));
    }
    return foulOf(place)
        .map(
            what ->
                "%s would stand foul of %s; %s has room for %s clear of its joints: move the train"
                    .formatted(cars(count), what, section.name(), cars(room - taken)));
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
