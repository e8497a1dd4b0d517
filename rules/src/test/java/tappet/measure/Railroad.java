package tappet.measure;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** A layout and its rules, read from what an owner or the generator has written. */
public record Railroad(Layout layout, ControlTable table) {

  /** The name of the demo's railroad; any other name is a number of generated groups. */
  public static final String DEMO = "demo";

  /** Reads the demo, or a generated line of so many groups of stations. */
  public static Railroad named(String name) {
    if (name.equals(DEMO)) {
      return read(demoFile("layout.yaml"), demoFile("rules.yaml"));
    }
    GeneratedLine line = new GeneratedLine(Integer.parseInt(name));
    return read(line.layoutText(), line.ruleText());
  }

  private static Railroad read(String layoutText, String ruleText) {
    Problems problems = new Problems();
    return LayoutReader.read("layout", layoutText, problems)
        .flatMap(
            layout ->
                RuleReader.read("rules", ruleText, layout, problems)
                    .map(table -> new Railroad(layout, table)))
        .orElseThrow(() -> new IllegalStateException(problems.sorted().toString()));
  }

  /** Tests run in a module's folder, measurements wherever they are told that home is. */
  private static String demoFile(String name) {
    try {
      return Files.readString(
          Path.of(System.getProperty("tappet.home", ".."), "config", "demo", name));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
