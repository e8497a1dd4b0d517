package tappet.bridge.measure;

import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.box.BoxListener;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.rehearsal.Onlooker;
import tappet.bridge.rehearsal.VirtualRailroad;
import tappet.layout.Layout;
import tappet.lcc.CanFrame;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.sentence.Sentences;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;
import tappet.source.Place;
import tappet.source.Problems;

/** Trains that run up and down the demo, each between two places, out of each other's way. */
final class Shuttles {

  /** Between Fallow and the siding at Tilling, and between the mill and the main at Tilling. */
  static final List<Shuttle> BOTH =
      List.of(
          new Shuttle(
              new TrainSpec("Extra 41", "fallow-1", Heading.EAST, 1.4, 0.3),
              new Trip("tilling-siding", List.of("line f2e to t2e", "line t2e to t6e")),
              new Trip("fallow-1", List.of("line t6w to f6w", "line f6w to fallow-1-end"))),
          new Shuttle(
              new TrainSpec("Mill Turn", "mill-branch", Heading.WEST, 1.0, 0.3),
              new Trip("tilling-main", List.of("line c6w to m2w", "line t8w to t4w")),
              new Trip("mill-branch", List.of("line t4e to m2e", "line c2e to mill-end"))));

  private static final Place HERE = Place.inText("shuttle", 1);
  private static final Duration LOOKS_EVERY = Duration.ofSeconds(10);

  private final List<Shuttle> shuttles;
  private final Map<Shuttle, Boolean> isOut = new HashMap<>();
  private final VirtualRailroad railroad;
  private long arrivals;
  private long frames;
  private long journal;

  /** A train with its two trips. */
  record Shuttle(TrainSpec train, Trip out, Trip back) {}

  /** Where a train runs to, and what is told so that it can. */
  record Trip(String to, List<String> sentences) {}

  Shuttles(Layout layout, ControlTable table, List<Shuttle> shuttles) {
    this.shuttles = shuttles;
    railroad =
        new VirtualRailroad(layout, table, new ClockPlan.None(), new Journal(), Onlooker.NONE);
    for (Shuttle shuttle : shuttles) {
      railroad.place(shuttle.train()).ifPresent(Shuttles::fail);
      isOut.put(shuttle, true);
    }
    railroad.switchOn();
    railroad.passStart();
    shuttles.forEach(shuttle -> leave(shuttle, shuttle.train().heading()));
  }

  private static void fail(String why) {
    throw new IllegalStateException(why);
  }

  /** Lets trains run to and fro. */
  void runFor(Duration time) {
    long endNs = railroad.nowNs() + time.toNanos();
    while (railroad.nowNs() < endNs) {
      railroad.passTime(LOOKS_EVERY);
      shuttles.forEach(this::lookAfter);
    }
  }

  private void lookAfter(Shuttle shuttle) {
    TrainState train = railroad.railway().train(shuttle.train().name()).orElseThrow();
    if (train.speedMetresPerSecond() > 0) {
      return;
    }
    if (train.sections().equals(List.of(trip(shuttle).to()))) {
      arrivals++;
      isOut.put(shuttle, !isOut.get(shuttle));
      leave(shuttle, train.heading() == Heading.EAST ? Heading.WEST : Heading.EAST);
    } else {
      lineFor(shuttle);
    }
  }

  private Trip trip(Shuttle shuttle) {
    return isOut.get(shuttle) ? shuttle.out() : shuttle.back();
  }

  private void leave(Shuttle shuttle, Heading heading) {
    lineFor(shuttle);
    railroad
        .tell(new Command.Run(shuttle.train().name(), Optional.of(heading), HERE))
        .ifPresent(Shuttles::fail);
  }

  /** What cannot be done yet is told again when one looks after the train the next time. */
  private void lineFor(Shuttle shuttle) {
    for (String sentence : trip(shuttle).sentences()) {
      railroad.tell(Sentences.command(sentence, HERE, new Problems()).orElseThrow());
    }
  }

  /** What came of it: the same wherever and however fast it runs. */
  String checkValue() {
    return "%d arrivals, %d mishaps, %d frames, journal %016X"
        .formatted(arrivals, railroad.railway().mishaps().size(), frames, journal);
  }

  /** Every frame to or from the box, and when. */
  private final class Journal implements BoxListener {

    @Override
    public void frameHeard(String origin, CanFrame frame, long nowNs) {
      note(frame);
    }

    @Override
    public void frameSent(CanFrame frame, long nowNs) {
      note(frame);
    }

    private void note(CanFrame frame) {
      frames++;
      journal = 31 * (31 * journal + railroad.nowNs()) + frame.hashCode();
    }
  }
}
