package tappet.bridge.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Signal;
import tappet.lcc.EventId;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** Writes settings files whose daemon takes any free port. */
final class Settings {

  private static final String PORTS =
      """
      daemon: 1
      node: 0A.57.00.00.00.01
      hub: 127.0.0.1:0
      desk: 127.0.0.1:0
      """;

  private static final Path DEMO =
      Path.of(System.getProperty("tappet.home", ".."), "config", "demo")
          .toAbsolutePath()
          .normalize();

  private Settings() {}

  /** A daemon with no way to a layout but its hub. */
  static Path scripted(Path folder, SignalsInARow railroad) throws IOException {
    Files.writeString(folder.resolve("layout.yaml"), railroad.layoutText());
    Files.writeString(folder.resolve("rules.yaml"), railroad.ruleText());
    return Files.writeString(
        folder.resolve("tappet.yaml"),
        PORTS + "layout: layout.yaml\nrules: rules.yaml\nconnections: []\n");
  }

  /** The same with pages at a port of this machine. */
  static Path withPages(Path folder, SignalsInARow railroad, int port) throws IOException {
    Path settings = scripted(folder, railroad);
    return Files.writeString(
        settings, Files.readString(settings) + "pages: 127.0.0.1:%d\n".formatted(port));
  }

  /** The demo's layout file. */
  static Path demoLayoutFile() {
    return DEMO.resolve("layout.yaml");
  }

  /** The demo. */
  static Path demo(Path folder) throws IOException {
    String settings = Files.readString(DEMO.resolve("tappet.yaml"));
    return Files.writeString(
        folder.resolve("demo.yaml"),
        PORTS
            + "pages: 127.0.0.1:0\nlayout: %s\nrules: %s\n"
                .formatted(demoLayoutFile(), DEMO.resolve("rules.yaml"))
            + settings.substring(settings.indexOf("connections:")));
  }

  /**
   * The demo with its train list.
   *
   * @param pages where browsers ask
   * @param metrics where numbers are told
   */
  static Path session(Path folder, int pages, int metrics) throws IOException {
    Files.copy(DEMO.resolve("session.yaml"), folder.resolve("session.yaml"));
    Path settings = demo(folder);
    String text =
        Files.readString(settings).replace("pages: 127.0.0.1:0", "pages: 127.0.0.1:" + pages);
    return Files.writeString(settings, text + "metrics: 127.0.0.1:%d\n".formatted(metrics));
  }

  /** The events by which the demo's signals are put to Stop. */
  static Set<EventId> stopsOfDemo() throws IOException {
    return demoLayout().signals().values().stream()
        .map(signal -> signal.shows().get(Signal.STOP))
        .collect(Collectors.toSet());
  }

  static Layout demoLayout() throws IOException {
    String text = Files.readString(DEMO.resolve("layout.yaml"));
    return LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
  }

  static ControlTable demoTable(Layout layout) throws IOException {
    String text = Files.readString(DEMO.resolve("rules.yaml"));
    return RuleReader.read("rules.yaml", text, layout, new Problems()).orElseThrow();
  }
}
