package tappet.bridge;

import static java.nio.file.StandardCopyOption.REPLACE_EXISTING;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code tappet prove} on real files. */
class ProveCommandTest {

  static final Path STARTER = Path.of("..", "config", "starter");

  @TempDir Path folder;

  /** The starter's files in a folder of their own. */
  static void writeSafe(Path folder) throws IOException {
    for (String name : List.of("layout.yaml", "rules.yaml")) {
      Files.copy(STARTER.resolve(name), folder.resolve(name));
    }
  }

  /** The same where an aspect promises a proceed before the end of track. */
  static void writeUnsafe(Path folder) throws IOException {
    String layout = Files.readString(STARTER.resolve("layout.yaml"));
    String rules = Files.readString(STARTER.resolve("rules.yaml"));
    Files.writeString(
        folder.resolve("layout.yaml"), layout.replace("      approach: 0A", "      clear: 0A"));
    Files.writeString(
        folder.resolve("rules.yaml"), rules.replace("beyond stop: approach", "beyond stop: clear"));
  }

  static Console prove(Path folder, String... more) {
    List<String> arguments = new ArrayList<>();
    arguments.add("prove");
    arguments.add(folder.resolve("layout.yaml").toString());
    arguments.add(folder.resolve("rules.yaml").toString());
    arguments.add("--memory=" + folder.resolve("learned"));
    arguments.addAll(List.of(more));
    return Console.run(arguments.toArray(String[]::new));
  }

  @Test
  void safeRulesAreProvenAndWhatIsAssumedIsListed() throws IOException {
    writeSafe(folder);
    Console proven = prove(folder);
    assertEquals(0, proven.status(), proven.out());
    assertTrue(
        proven
            .out()
            .startsWith("proven       3 of   3  a proceed aspect has a detected, clear way"),
        proven.out());
    assertTrue(proven.out().contains("assumed: P9: one thing happens at a time"), proven.out());
    assertTrue(Files.size(folder.resolve("learned")) > 0, "what was learned is kept");
    assertEquals(proven, prove(folder), "what was learned does not change what is found");
  }

  @Test
  void unsafeRulesAreToldAsAStory() throws IOException {
    writeUnsafe(folder);
    Console proven = prove(folder);
    assertEquals(1, proven.status(), proven.out() + proven.err());
    assertTrue(
        proven.out().contains("DISPROVEN: signal w2e shows clear only before a signal"),
        proven.out());
    assertTrue(proven.out().contains("1. Somebody asks: line w2e to main-end"), proven.out());
    assertTrue(proven.out().contains("and broke it in line 4"), proven.out());

    Console rehearsed = Console.run("rehearse", folder.resolve("stories").toString());
    assertEquals(1, rehearsed.status(), rehearsed.out());
    assertTrue(
        rehearsed.out().contains("it is not safe; not so: signal w2e shows clear"),
        rehearsed.out());
    Files.copy(STARTER.resolve("rules.yaml"), folder.resolve("rules.yaml"), REPLACE_EXISTING);
    Files.copy(STARTER.resolve("layout.yaml"), folder.resolve("layout.yaml"), REPLACE_EXISTING);
    rehearsed = Console.run("rehearse", folder.resolve("stories").toString());
    assertEquals(0, rehearsed.status(), "with the rules mended it is an ordinary scenario");
  }

  @Test
  void programsGetWhatIsFoundAsJson() throws IOException {
    writeUnsafe(folder);
    JsonNode found = new JsonMapper().readTree(prove(folder, "--json").out());
    assertEquals("disproven", found.get("verdict").asText());
    JsonNode broken =
        StreamSupport.stream(found.get("properties").spliterator(), false)
            .filter(property -> property.get("verdict").asText().equals("disproven"))
            .findFirst()
            .orElseThrow();
    assertEquals("S12", broken.get("source").asText());
    assertEquals("Somebody asks: line w2e to main-end", broken.get("story").get(0).asText());
    assertTrue(broken.get("rows").get(0).asText().contains("rules.yaml:"));
    assertTrue(found.get("assumptions").size() > 3, found::toPrettyString);
  }

  /** What other solvers say of these files is tested where the proof is. */
  @Test
  void everyQuestionIsWrittenDownForOtherPrograms() throws IOException {
    writeSafe(folder);
    Path questions = folder.resolve("questions");
    assertEquals(0, prove(folder, "--export=" + questions).status());
    List<String> index = Files.readAllLines(questions.resolve("properties.txt"));
    assertTrue(index.get(0).startsWith("property-001: proven: signal w2e proceeds only"));
    for (int number = 1; number <= index.size(); number++) {
      String name = "property-%03d".formatted(number);
      assertTrue(Files.readString(questions.resolve(name + ".cnf")).contains("\np cnf "), name);
      byte[] model = Files.readAllBytes(questions.resolve(name + ".aig"));
      assertTrue(new String(model, StandardCharsets.ISO_8859_1).startsWith("aig "), name);
    }
  }

  @Test
  void verdictIsToldWhereNeitherItNorItsStoriesCanBeWritten() throws IOException {
    writeUnsafe(folder);
    inTheWayOfWhatIsWritten();
    Console disproven = prove(folder);
    assertEquals(1, disproven.status(), disproven::toString);
    assertTrue(disproven.out().contains("1. Somebody asks: line w2e"), disproven::out);
    assertTrue(disproven.out().contains("no scenario of it can be written ("), disproven::out);
    assertTrue(disproven.err().contains("the verdict cannot be kept ("), disproven::err);
  }

  @Test
  void proofCountsWhereOldStoriesCannotBeRemoved() throws IOException {
    writeSafe(folder);
    inTheWayOfWhatIsWritten();
    Files.createDirectories(folder.resolve("old/story-001.yaml/full"));
    Console proven = prove(folder, "--stories=" + folder.resolve("old"));
    assertEquals(0, proven.status(), proven::toString);
    assertTrue(
        proven.err().contains("stories of an earlier proof cannot be removed ("), proven::err);
    assertTrue(proven.err().contains("the verdict cannot be kept ("), proven::err);
  }

  /** A file where a folder should be, and a folder where a file should. */
  private void inTheWayOfWhatIsWritten() throws IOException {
    Files.writeString(folder.resolve("stories"), "no folder");
    Files.createDirectory(folder.resolve("rules.proof"));
  }

  @Test
  void proofThatCannotBeFinishedHasAStatusOfItsOwn() throws IOException {
    writeSafe(folder);
    Path noFolder = Files.writeString(folder.resolve("questions"), "no folder");
    Console failed = prove(folder, "--export=" + noFolder);
    assertEquals(4, failed.status(), failed::toString);
    assertTrue(failed.err().contains("the proof could not be finished: "), failed::err);
  }

  @Test
  void filesThatWereEditedSinceAReloadReadThemAreNotProven() throws IOException {
    writeSafe(folder);
    OwnerFiles.Railroad read = QuickLine.read(folder);
    String digest = read.files().digest(read.compiled().network());
    assertEquals(0, prove(folder, "--digest=" + digest).status());
    Files.writeString(folder.resolve("rules.yaml"), "# edited\n", StandardOpenOption.APPEND);
    Console edited = prove(folder, "--digest=" + digest);
    assertEquals(4, edited.status(), edited::toString);
    assertEquals("", edited.out());
  }

  /** As the launcher has it, and the daemon: Java's own status would be an answer. */
  @Test
  void proofThatFindsTheHeapFullIsNotFinished() throws Exception {
    QuickLine.write(folder);
    String layout = folder.resolve("layout.yaml").toString();
    String rules = folder.resolve("rules.yaml").toString();
    try (JavaProcess prove =
        JavaProcess.start(
            List.of("-Xmx12m", "-XX:-ExitOnOutOfMemoryError"),
            Tappet.class,
            "prove",
            "--memory=" + folder.resolve("learned"),
            layout,
            rules)) {
      prove.awaitLine("the proof could not be finished: java.lang.OutOfMemoryError");
      assertEquals(4, prove.awaitEnd());
    }
  }

  @Test
  void rowsThatNeverMatterAreToldWithTheirLines() throws IOException {
    writeSafe(folder);
    Path rules = folder.resolve("rules.yaml");
    String idle = "also:\n  - {signal: w2e, needs: section switch is clear}\n";
    Files.writeString(rules, Files.readString(rules) + idle);
    Console proven = prove(folder, "--rows");
    assertEquals(0, proven.status(), proven.out());
    long line = Files.readString(rules).lines().count() - 1;
    assertTrue(
        proven.out().contains("never matters: %s:%d: also".formatted(rules, line)), proven.out());
  }

  @Test
  void mistakesAreToldBeforeAnythingIsProven() throws IOException {
    writeSafe(folder);
    Path rules = Files.writeString(folder.resolve("rules.yaml"), "rules: 1\nroutes: 7\n");
    Console told = prove(folder);
    assertEquals(1, told.status());
    assertTrue(told.out().startsWith(rules + ":1:1: the rule file lacks 'aspects'"), told.out());
  }
}
