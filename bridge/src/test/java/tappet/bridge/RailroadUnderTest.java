package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.SignalBox;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.rehearsal.Onlooker;
import tappet.bridge.rehearsal.VirtualRailroad;
import tappet.interlocking.Interlocking;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.Message;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.sentence.Sentences;
import tappet.simulator.Railway;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;
import tappet.source.Place;
import tappet.source.Problems;

/** The whole railroad on virtual time, as tests use it: what goes wrong with it fails them. */
final class RailroadUnderTest {

  /** The connection by which the box hears the field. */
  static final String CABLE = VirtualRailroad.CABLE;

  static final TrainSpec EXTRA_41 = train("Extra 41", "fallow-1", Command.Heading.EAST, 1.4);
  static final TrainSpec EXTRA_57 = train("Extra 57", "fallow-2", Command.Heading.EAST, 1.2);
  static final TrainSpec MILL_TURN = train("Mill Turn", "mill-branch", Command.Heading.WEST, 1.0);

  private static final Path DEMO = Path.of("..", "config", "demo");
  private final List<String> record = new ArrayList<>();
  private final VirtualRailroad railroad;
  final Interlocking interlocking;
  final SignalBox box;
  final Railway railway;

  private RailroadUnderTest(OwnerFiles.Railroad files, List<TrainSpec> trains) {
    railroad =
        new VirtualRailroad(
            files.layout(), files.table(), new ClockPlan.None(), new Recorder(), Onlooker.NONE);
    interlocking = railroad.interlocking();
    box = railroad.box();
    railway = railroad.railway();
    for (TrainSpec train : trains) {
      assertEquals(Optional.empty(), railroad.place(train));
    }
  }

  static OwnerFiles.Railroad ambroseValley() {
    return railroad(DEMO);
  }

  /** What layout.yaml and rules.yaml of a folder describe. */
  static OwnerFiles.Railroad railroad(Path folder) {
    Problems problems = new Problems();
    Optional<OwnerFiles.Railroad> railroad =
        new OwnerFiles(problems)
            .railroad(folder.resolve("layout.yaml"), folder.resolve("rules.yaml"));
    assertEquals(List.of(), problems.sorted());
    return railroad.orElseThrow();
  }

  /** Box and boards have just been switched on. */
  static RailroadUnderTest switchedOn(TrainSpec... trains) {
    return switchedOn(ambroseValley(), trains);
  }

  /** The same on another railroad. */
  static RailroadUnderTest switchedOn(OwnerFiles.Railroad railroad, TrainSpec... trains) {
    RailroadUnderTest tested = new RailroadUnderTest(railroad, List.of(trains));
    tested.railroad.switchOn();
    return tested;
  }

  /** Everything has been asked and has answered, and the time since the start has run. */
  static RailroadUnderTest ready(TrainSpec... trains) {
    return ready(ambroseValley(), trains);
  }

  /** The same of another railroad. */
  static RailroadUnderTest ready(OwnerFiles.Railroad railroad, TrainSpec... trains) {
    RailroadUnderTest tested = switchedOn(railroad, trains);
    tested.passTime(Duration.ofSeconds(12));
    return tested;
  }

  static TrainSpec train(String name, String on, Command.Heading heading, double metres) {
    return new TrainSpec(name, on, heading, metres, 0.4);
  }

  /** Tells the box or a train something that is to be done. */
  void tell(String sentence) {
    Optional<String> whyNot = whyNot(sentence);
    assertTrue(whyNot.isEmpty(), () -> sentence + ": " + whyNot.orElseThrow());
  }

  /** Tells something that is to be refused; answers why. */
  String refused(String sentence) {
    Optional<String> whyNot = whyNot(sentence);
    assertFalse(whyNot.isEmpty(), () -> sentence + " was done");
    return whyNot.orElseThrow();
  }

  private Optional<String> whyNot(String sentence) {
    return railroad.tell(command(sentence));
  }

  private static Command command(String sentence) {
    Problems problems = new Problems();
    Optional<Command> command = Sentences.command(sentence, Place.inText("sentence", 1), problems);
    assertEquals(List.of(), problems.sorted());
    return command.orElseThrow();
  }

  /** Lets time pass, from one thing that is due to the next. */
  void passTime(Duration time) {
    railroad.passTime(time);
  }

  /** Lets time pass until something is so; fails if it takes longer than this. */
  void passUntil(Duration atMost, String what, BooleanSupplier isSo) {
    assertTrue(
        railroad.passUntil(atMost, isSo),
        () -> "not within " + atMost + ": " + what + "\n" + told());
  }

  /** Brings what was done to the railway from outside to the box. */
  void carry() {
    railroad.carry();
  }

  /** A node that is not on the layout says something. */
  void hear(Message message) {
    railroad.hear(message.encode());
  }

  /** The daemon loses its power, or gets it back. */
  void runDaemon(boolean runs) {
    assertEquals(Optional.empty(), railroad.happen(new Happening.DaemonIs(runs)));
  }

  /** Pulls the cable between box and field. */
  void pullCable() {
    assertEquals(Optional.empty(), railroad.happen(new Happening.CableIs(false)));
  }

  void plugCableIn() {
    assertEquals(Optional.empty(), railroad.happen(new Happening.CableIs(true)));
  }

  /** The aspect that stands on the layout; the box must believe the same. */
  String aspect(String signal) {
    if (railroad.isPlugged()) {
      assertEquals(interlocking.aspect(signal), railway.aspect(signal), signal);
    }
    return railway.aspect(signal);
  }

  TrainState train(String name) {
    return railway.train(name).orElseThrow();
  }

  boolean waitsAt(String train, String signal) {
    return train(train).waitsFor().equals(Optional.of(signal));
  }

  boolean isAtEndOfTrack(String train) {
    return train(train).activity() == TrainState.Activity.AT_END_OF_TRACK;
  }

  String why(String name) {
    return box.why(name, railroad.nowNs()).orElseThrow().text();
  }

  /** What went over the bus and what changed, each line with its time in nanoseconds. */
  List<String> record() {
    return List.copyOf(record);
  }

  /** The same in one text, without the frames. */
  String told() {
    return String.join("\n", record.stream().filter(line -> !line.contains(" :X")).toList());
  }

  private final class Recorder implements BoxListener {
    @Override
    public void frameHeard(String origin, CanFrame frame, long nowNs) {
      note("in " + FrameText.encode(frame));
    }

    @Override
    public void frameSent(CanFrame frame, long nowNs) {
      note("out " + FrameText.encode(frame));
    }

    @Override
    public void changed(String what) {
      note(what);
    }

    @Override
    public void alarmRaised(String what) {
      note("ALARM " + what);
    }

    @Override
    public void alarmCleared(String what) {
      note("alarm gone " + what);
    }

    private void note(String what) {
      record.add(railroad.nowNs() + " " + what);
    }
  }
}
