package tappet.rules;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.TrackPlan;
import tappet.source.Problems;

/** The plain Ambrose Valley Line, and the files of config. */
final class Demo {

  static final Path CONFIG = Path.of("..", "config");

  /** The folder of the plain line. */
  static final String PLAIN = "../shared/src/test/resources/plain";

  static final Layout LAYOUT = layout(PLAIN);
  static final TrackPlan PLAN = new TrackPlan(LAYOUT);

  private Demo() {}

  static Layout layout(String folder) {
    return layoutOf(text(folder, "layout.yaml"));
  }

  static Layout layoutOf(String text) {
    var problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", text, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }

  static String text(String folder, String file) {
    try {
      return Files.readString(CONFIG.resolve(folder).resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
