package tappet.simulator;

import java.util.ArrayList;
import java.util.List;
import tappet.layout.Layout;
import tappet.layout.Opening;
import tappet.layout.Track;
import tappet.simulator.Mishap.Kind;

/** Writes down what went wrong, and stops the trains it happened to. */
final class MishapBook {

  private final Layout layout;
  private final List<Mishap> mishaps = new ArrayList<>();
  private long nowNs;

  MishapBook(Layout layout) {
    this.layout = layout;
  }

  /** What is written from here on happens now. */
  void turnTo(long nowNs) {
    this.nowNs = nowNs;
  }

  List<Mishap> all() {
    return List.copyOf(mishaps);
  }

  /** By itself harms nobody: the train runs on, or stops, as its engineer sees fit. */
  void passedAtStop(Train train, String signal) {
    String name = layout.signals().get(signal).name();
    write(
        Kind.SIGNAL_PASSED, train, section(train), train.name() + " went by " + name + " at Stop");
  }

  void ranOffTheEnd(Train train) {
    write(Kind.END_OF_TRACK, train, section(train), train.name() + " ran on where the track ends");
    train.wreck();
  }

  void ranIntoGap(Train train, Opening opening) {
    String account = train.name() + " ran into " + opening.name() + ", which was open";
    write(Kind.END_OF_TRACK, train, section(train), account);
    train.wreck();
  }

  void ranThrough(Train train, Track.Leg leg) {
    write(
        Kind.RUN_THROUGH,
        train,
        section(leg),
        "%s ran through %s, which lay %s"
            .formatted(train.name(), name(leg), leg.position().opposite().word()));
    train.wreck();
  }

  void derailed(Train train, Track.Leg leg) {
    write(
        Kind.DERAILMENT,
        train,
        section(leg),
        "%s moved under %s".formatted(name(leg), train.name()));
    train.wreck();
  }

  void derailedAt(Train train, Track.Leg derail) {
    write(
        Kind.DERAILMENT,
        train,
        section(train),
        "%s was derailed by %s".formatted(train.name(), name(derail)));
    train.wreck();
  }

  void collided(Train one, Train other, String section) {
    String account = "%s and %s ran into each other".formatted(one.name(), other.name());
    mishaps.add(
        new Mishap(Kind.COLLISION, List.of(one.name(), other.name()), section, account, nowNs));
    one.wreck();
    other.wreck();
  }

  private void write(Kind kind, Train train, String section, String account) {
    mishaps.add(new Mishap(kind, List.of(train.name()), section, account, nowNs));
  }

  private static String section(Train train) {
    return train.consist().head().section();
  }

  private String section(Track.Leg leg) {
    return layout.switches().get(leg.switchId()).section();
  }

  private String name(Track.Leg leg) {
    return layout.switches().get(leg.switchId()).name();
  }
}
