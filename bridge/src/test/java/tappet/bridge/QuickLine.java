package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import tappet.bridge.box.Tempo;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.Standing;
import tappet.lcc.NodeId;
import tappet.sentence.Command;
import tappet.simulator.TrainSpec;
import tappet.source.Problems;

/**
 * The Ambrose Valley Line in a hurry: 1 s after a start it may be lined, Tilling is small, and its
 * train is short and fast.
 */
final class QuickLine {

  static final TrainSpec EXTRA_41 =
      new TrainSpec("Extra 41", "west-main", Command.Heading.EAST, 0.4, 5.0);

  private static final Path DEMO = Path.of("..", "config", "demo");

  private QuickLine() {}

  /** Writes layout.yaml and rules.yaml into a folder. */
  static void write(Path folder) throws IOException {
    String layout = Files.readString(DEMO.resolve("layout.yaml"));
    String small = layout.replaceAll("length: (3.2|2.6|0.6) m", "length: 0.6 m");
    Files.writeString(folder.resolve("layout.yaml"), small);
    String rules = Files.readString(DEMO.resolve("rules.yaml"));
    String quick =
        rules
            .replaceAll("(start|release): \\d+ s", "$1: 1 s")
            .replaceFirst("loss of shunt: 2 s", "loss of shunt: 200 ms");
    Files.writeString(folder.resolve("rules.yaml"), quick);
  }

  static OwnerFiles.Railroad read(Path folder) {
    Problems problems = new Problems();
    var railroad =
        new OwnerFiles(problems)
            .railroad(folder.resolve("layout.yaml"), folder.resolve("rules.yaml"));
    assertEquals(List.of(), problems.sorted());
    return railroad.orElseThrow();
  }

  /** What a daemon begins to run, of rules that count as proven. */
  static Charted charted(OwnerFiles.Railroad railroad) {
    Standing standing = new Standing(KeptVerdict.Answer.PROVEN, "as the demo is");
    return Charted.of(railroad, () -> standing);
  }

  /**
   * Settings with free ports, and nothing but the hub and the desk.
   *
   * @param state what the daemon keeps, with its other files beside it
   */
  static Settings settings(Path folder, Path state, List<Settings.Way> ways) {
    InetSocketAddress anyPort = new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);
    return new Settings(
        folder.resolve("layout.yaml"),
        folder.resolve("rules.yaml"),
        NodeId.of("0A.57.00.00.00.01"),
        anyPort,
        anyPort,
        state,
        Settings.JournalPlan.beside(state),
        new ClockPlan.None(),
        Settings.Extras.NONE,
        Settings.People.NONE,
        ways,
        Tempo.REAL);
  }

  /** Writes a settings file with free ports and this list of connections. */
  static Path settings(Path folder, String connections) throws IOException {
    return settings(folder, "127.0.0.1:0", "127.0.0.1:0", connections);
  }

  static Path settings(Path folder, String hub, String desk, String connections)
      throws IOException {
    return Files.writeString(
        folder.resolve("tappet.yaml"),
        """
        daemon: 1
        layout: layout.yaml
        rules: rules.yaml
        node: 0A.57.00.00.00.01
        hub: %s
        desk: %s
        connections: %s
        """
            .formatted(hub, desk, connections));
  }
}
