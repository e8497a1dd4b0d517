package tappet.bridge;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.bridge.box.Tempo;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.bridge.pages.Role;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.Standing;
import tappet.lcc.NodeId;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainSpec;
import tappet.simulator.scenario.TrainReader;
import tappet.source.Place;

/** The Ambrose Valley Line in a hurry, on the simulator, with its pages. */
public final class QuickDaemon implements AutoCloseable {

  private static final InetSocketAddress ANY_PORT =
      new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);

  private final Daemon daemon;
  private final Map<Role, String> pins;

  private QuickDaemon(Daemon daemon, Map<Role, String> pins) {
    this.daemon = daemon;
    this.pins = pins;
  }

  /** Starts it with these trains, and two territories. */
  public static QuickDaemon start(Path folder, TrainSpec... trains) throws IOException {
    return start(folder, Settings.Extras.NONE, trains);
  }

  /** The same with what a hub may do besides. */
  static QuickDaemon start(Path folder, Settings.Extras extras, TrainSpec... trains)
      throws IOException {
    return start(folder, KeptVerdict.Answer.PROVEN, "as the demo is", extras, trains);
  }

  /** Starts it with rules that are said not to be proven. */
  public static QuickDaemon startInDoubt(Path folder) throws IOException {
    return start(
        folder,
        KeptVerdict.Answer.NOT_PROVEN,
        "the rules have not been proven",
        Settings.Extras.NONE);
  }

  private static QuickDaemon start(
      Path folder,
      KeptVerdict.Answer answer,
      String words,
      Settings.Extras extras,
      TrainSpec... trains)
      throws IOException {
    QuickLine.write(folder);
    releaseSlowly(folder.resolve("rules.yaml"));
    Path state = folder.resolve("tappet.state");
    Map<Role, String> pins = PinFile.open(PinFile.beside(state)).told();
    Place nowhere = Place.inText("test", 1);
    Settings settings =
        new Settings(
            folder.resolve("layout.yaml"),
            folder.resolve("rules.yaml"),
            NodeId.of("0A.57.00.00.00.01"),
            ANY_PORT,
            ANY_PORT,
            state,
            Settings.JournalPlan.beside(state),
            new ClockPlan.Run(FastClock.FAST, new Rate(8), new Time(6, 0)),
            extras,
            new Settings.People(
                Optional.of(ANY_PORT),
                List.of(
                    new Settings.Territory("west", List.of("fallow", "tilling"), nowhere),
                    new Settings.Territory("east", List.of("midway", "corvane", "yard"), nowhere))),
            List.of(
                new Settings.Simulator(
                    Stream.of(trains)
                        .map(train -> new TrainReader.Placed(train, nowhere))
                        .toList())),
            Tempo.REAL);
    OwnerFiles.Railroad railroad = QuickLine.read(folder);
    Charted charted = Charted.of(railroad, () -> new Standing(answer, words));
    Service.nameTrains(settings, charted);
    return new QuickDaemon(Daemon.start(settings, charted), pins);
  }

  /** So that its time running is seen, even on a busy machine. */
  private static void releaseSlowly(Path rules) throws IOException {
    String quick = Files.readString(rules);
    Files.writeString(rules, quick.replaceAll("(start|release): 1 s", "$1: 5 s"));
  }

  /** A train that runs as fast as a model may. */
  public static TrainSpec train(String name, String on, Heading heading) {
    return new TrainSpec(name, on, heading, 0.3, 3.0);
  }

  /** {@code 127.0.0.1:port} of the pages. */
  public String host() {
    return "127.0.0.1:" + daemon.pagesAddress().orElseThrow().getPort();
  }

  /** The daemon itself. */
  Daemon daemon() {
    return daemon;
  }

  public String pin(Role role) {
    return pins.get(role);
  }

  @Override
  public void close() {
    daemon.close();
  }
}
