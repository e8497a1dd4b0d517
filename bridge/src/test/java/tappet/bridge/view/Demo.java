package tappet.bridge.view;

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
public final class Demo {

  private static final Path FOLDER = Path.of("..", "config", "demo");

  private Demo() {}

  public static Layout layout() {
    return LayoutReader.read("layout.yaml", text("layout.yaml"), new Problems()).orElseThrow();
  }

  public static ControlTable table() {
    return RuleReader.read("rules.yaml", text("rules.yaml"), layout(), new Problems())
        .orElseThrow();
  }

  private static String text(String file) {
    try {
      return Files.readString(FOLDER.resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
