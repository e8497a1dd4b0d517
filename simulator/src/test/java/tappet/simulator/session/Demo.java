package tappet.simulator.session;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.source.Problems;

/** The Ambrose Valley Line. */
final class Demo {

  static final Path CONFIG = Path.of("..", "config");

  private Demo() {}

  static Layout layout() throws IOException {
    String text = Files.readString(CONFIG.resolve("demo").resolve("layout.yaml"));
    return LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
  }

  static String trainList() throws IOException {
    return Files.readString(CONFIG.resolve("demo").resolve("session.yaml"));
  }
}
