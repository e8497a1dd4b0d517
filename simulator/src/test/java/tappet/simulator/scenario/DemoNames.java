package tappet.simulator.scenario;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.source.Problems;

/** What scenarios of the demo can speak of. Its rule file is for others to read. */
final class DemoNames {

  private static final Path DEMO = Path.of("..", "config", "demo");

  private DemoNames() {}

  static Names names() throws IOException {
    Problems problems = new Problems();
    Path file = DEMO.resolve("layout.yaml");
    Optional<Layout> layout = LayoutReader.read(file.toString(), Files.readString(file), problems);
    return new Names(
        layout.orElseThrow(),
        List.of("t2e-t4e", "t4e-m2e", "f2e-t2e", "t4w-f6w", "t2e-t6e", "c2e-creamery-end"),
        List.of("midway"));
  }
}
