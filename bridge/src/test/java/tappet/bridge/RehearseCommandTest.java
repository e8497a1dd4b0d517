package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code tappet rehearse} on real files. */
class RehearseCommandTest {

  private static final Path DEMO = Path.of("..", "config", "demo");

  @TempDir Path folder;

  /** What CI holds the demo to: every scenario an owner reads there is so. */
  @Test
  void everyScenarioOfTheDemoGoesAsItIsWritten() {
    Console told = Console.run("rehearse", DEMO.resolve("scenarios").toString(), "--coverage");
    assertEquals(0, told.status(), told.out() + told.err());
    assertTrue(told.out().contains("lines with their traffic set each way"), told.out());
  }

  /** The demo's signals have no lamps that a board proves; what becomes of dead ones is here. */
  @Test
  void scenariosOfDeadLampsGoAsTheyAreWritten() {
    Path scenarios = Path.of("src", "test", "resources", "lamps", "scenarios");
    Console told = Console.run("rehearse", scenarios.toString());
    assertEquals(0, told.status(), told.out() + told.err());
    assertTrue(told.out().endsWith("2 of 2 scenarios passed\n"), told.out());
  }

  /** Where an owner looks for the scenario of a fault. */
  @Test
  void everyScenarioOfTheTableIsThere() throws IOException {
    Path scenarios = DEMO.resolve("scenarios");
    List<String> named =
        Pattern.compile("[0-9]{2}-[a-z-]+\\.yaml")
            .matcher(Files.readString(scenarios.resolve("README.md")))
            .results()
            .map(MatchResult::group)
            .toList();
    assertFalse(named.isEmpty());
    for (String file : named) {
      boolean isLamps = Files.exists(Path.of("src/test/resources/lamps/scenarios", file));
      assertTrue(isLamps || Files.exists(scenarios.resolve(file)), file);
    }
  }

  @Test
  void whatDoesNotGoAsExpectedIsToldWithItsReason() throws IOException {
    Path file =
        write(
            "wrong.yaml",
            """
            scenario: Wrong hope
            steps:
              - fault: section tilling-w reports nothing
              - {expect: section tilling-w is clear, within: 8 s}
            """);
    Console told = rehearse(file);
    assertEquals(1, told.status(), told.out());
    assertTrue(told.out().startsWith("FAILED  Wrong hope (20.000 s)\n"), told.out());
    assertTrue(
        told.out()
            .contains(
                file
                    + ":4:5: expect: section tilling-w is clear, within: 8 s\n"
                    + "    after 8.000 s it has not come about: section tilling-w is unknown\n"),
        told.out());
    assertTrue(told.out().contains("    why: section tilling-w (Tilling west switch)"), told.out());
    assertTrue(
        told.out().contains("0.000 s  happens: section tilling-w reports nothing"), told.out());
    assertTrue(told.out().endsWith("0 of 1 scenarios passed\n"), told.out());
  }

  @Test
  void everyMistakeOfEveryFileIsToldBeforeAnythingIsRun() throws IOException {
    Path one = write("1.yaml", "scenario: One\nsteps: [{tell: line t2e to t5e}]\n");
    Path other = write("2.yaml", "scenario: Two\nsteps: [{pass: soon}]\n");
    Console told = rehearse(folder);
    assertEquals(1, told.status());
    assertEquals(
        one
            + ":2:28: this layout has no signal or joint 't5e'; did you mean 't2e'?\n"
            + other
            + ":2:16: 'soon' is not a time with its unit (ms, s, min, h); write for example 'pass:"
            + " 8 s'\n",
        told.out());
  }

  @Test
  void resultsAreWrittenForABuildServer() throws Exception {
    write("1.yaml", "scenario: One\nsteps: [{pass: 1 s}]\n");
    write("2.yaml", "scenario: Two <&>\nsteps: [{expect: signal t2e is clear}]\n");
    Path xml = folder.resolve("results.xml");
    Console told = rehearse(folder, "--junit-xml", xml.toString());
    assertEquals(1, told.status(), told.err());
    var suite =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(xml.toFile())
            .getDocumentElement();
    assertEquals("2", suite.getAttribute("tests"));
    assertEquals("1", suite.getAttribute("failures"));
    var cases = suite.getElementsByTagName("testcase");
    assertEquals("Two <&>", cases.item(1).getAttributes().getNamedItem("name").getNodeValue());
    assertEquals(1, suite.getElementsByTagName("failure").getLength());
  }

  @Test
  void scenarioThatIsNotThereIsAMistake() {
    Console told = rehearse(folder.resolve("nothing.yaml"));
    assertEquals(1, told.status());
    assertTrue(told.out().contains("there is no such file"), told.out());
  }

  @Test
  void withoutAPathNothingIsUnderstood() {
    assertEquals(2, Console.run("rehearse").status());
  }

  private Path write(String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text);
  }

  private static Console rehearse(Path path, String... more) {
    String[] arguments = new String[more.length + 6];
    arguments[0] = "rehearse";
    arguments[1] = path.toString();
    arguments[2] = "--layout";
    arguments[3] = DEMO.resolve("layout.yaml").toString();
    arguments[4] = "--rules";
    arguments[5] = DEMO.resolve("rules.yaml").toString();
    System.arraycopy(more, 0, arguments, 6, more.length);
    return Console.run(arguments);
  }
}
