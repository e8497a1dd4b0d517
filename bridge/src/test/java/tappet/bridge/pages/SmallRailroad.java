package tappet.bridge.pages;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** The demo's files, read. */
final class SmallRailroad {

  private static final Path DEMO = Path.of("..", "config", "demo");

  private SmallRailroad() {}

  static Layout layout() {
    return LayoutReader.read("layout.yaml", text("layout.yaml"), new Problems()).orElseThrow();
  }

  static ControlTable table() {
    return RuleReader.read("rules.yaml", text("rules.yaml"), layout(), new Problems())
        .orElseThrow();
  }

  private static String text(String file) {
    try {
      return Files.readString(DEMO.resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
