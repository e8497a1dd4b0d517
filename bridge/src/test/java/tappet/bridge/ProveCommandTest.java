package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code tappet prove} on real files. */
class ProveCommandTest {

  private static final Path STARTER = Path.of("..", "config", "starter");
  private static final String LAYOUT = STARTER.resolve("layout.yaml").toString();

  @TempDir Path folder;

  @Test
  void safeRulesAreProvenAndWhatIsAssumedIsListed() {
    Console proven = Console.run("prove", LAYOUT, STARTER.resolve("rules.yaml").toString());
    assertEquals(0, proven.status(), proven.out());
    assertTrue(
        proven
            .out()
            .startsWith("proven       3 of   3  a proceed aspect has a detected, clear way"),
        proven.out());
    assertTrue(proven.out().contains("assumed: P9: one thing happens at a time"), proven.out());
  }

  /** The owner's aspects promise a proceed where the next signal is the end of track. */
  @Test
  void unsafeRulesAreToldAsAStory() throws IOException {
    Path layout = folder.resolve("layout.yaml");
    Path rules = folder.resolve("rules.yaml");
    Files.writeString(
        layout,
        Files.readString(STARTER.resolve("layout.yaml"))
            .replace("      approach: 0A", "      clear: 0A"));
    Files.writeString(
        rules,
        Files.readString(STARTER.resolve("rules.yaml"))
            .replace("beyond stop: approach", "beyond stop: clear"));
    Console proven = Console.run("prove", layout.toString(), rules.toString());
    assertEquals(1, proven.status(), proven.out() + proven.err());
    assertTrue(
        proven.out().contains("DISPROVEN: signal w2e shows clear only before a signal"),
        proven.out());
    assertTrue(proven.out().contains("1. route w2e-main-end: asked"), proven.out());
  }

  @Test
  void mistakesAreToldBeforeAnythingIsProven() throws IOException {
    Path rules = Files.writeString(folder.resolve("rules.yaml"), "rules: 1\nroutes: 7\n");
    Console told = Console.run("prove", LAYOUT, rules.toString());
    assertEquals(1, told.status());
    assertTrue(told.out().startsWith(rules + ":1:1: the rule file lacks 'aspects'"), told.out());
  }
}
