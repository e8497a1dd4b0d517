package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code tappet draft} on real files. */
class DraftCommandTest {

  private static final String DEMO =
      Path.of("..", "shared", "src", "test", "resources", "plain", "layout.yaml").toString();

  @TempDir Path folder;

  @Test
  void draftIsPrintedAndTouchesNoFile() throws IOException {
    Console drafted = Console.run("draft", DEMO);
    assertEquals(0, drafted.status());
    assertEquals("", drafted.err());
    assertTrue(drafted.out().startsWith("# The rules of Ambrose Valley Line"), drafted.out());
    try (var files = Files.list(folder)) {
      assertEquals(0, files.count());
    }
  }

  @Test
  void writtenDraftPassesTheCheck() throws IOException {
    Path rules = folder.resolve("rules.yaml");
    assertEquals(new Console(0, "", ""), Console.run("draft", DEMO, "--output", rules.toString()));
    assertEquals(Console.run("draft", DEMO).out(), Files.readString(rules));
    Console checked = Console.run("check", DEMO, rules.toString());
    assertEquals(
        "Ambrose Valley Line: 15 sections, 8 switches, 15 signals, 20 routes, no mistakes\n",
        checked.out());
  }

  @Test
  void fileThatIsThereIsKeptUnlessForced() throws IOException {
    Path rules = Files.writeString(folder.resolve("rules.yaml"), "mine");
    assertEquals(
        new Console(1, "", rules + " is there already; add --force to write over it\n"),
        Console.run("draft", DEMO, "--output", rules.toString()));
    assertEquals("mine", Files.readString(rules));
    assertEquals(
        new Console(0, "", ""),
        Console.run("draft", DEMO, "--output", rules.toString(), "--force"));
    assertEquals(Console.run("draft", DEMO).out(), Files.readString(rules));
  }

  @Test
  void layoutIsNeverWrittenOver() throws IOException {
    Path layout = folder.resolve("layout.yaml");
    Files.copy(Path.of(DEMO), layout);
    String text = Files.readString(layout);
    assertEquals(
        new Console(1, "", layout + " is the layout itself; name another file\n"),
        Console.run("draft", layout.toString(), "--output", layout.toString(), "--force"));
    assertEquals(text, Files.readString(layout));
  }

  @Test
  void folderThatIsNotThereIsTold() {
    Path rules = folder.resolve("nowhere").resolve("rules.yaml");
    Console answer = Console.run("draft", DEMO, "--output", rules.toString());
    assertEquals(1, answer.status());
    assertTrue(answer.err().startsWith(rules + " cannot be written: "), answer.err());
  }

  @Test
  void mistakesOfTheLayoutAreToldAndNothingIsDrafted() throws IOException {
    Path layout = folder.resolve("layout.yaml");
    Files.writeString(layout, Files.readString(Path.of(DEMO)).replace("2.2 m", "2.2 feet"));
    Console answer = Console.run("draft", layout.toString());
    assertEquals(1, answer.status());
    assertEquals("", answer.out());
    assertTrue(answer.err().startsWith(layout + ":124:13: '2.2 feet' is not"), answer.err());
  }

  @Test
  void whatTheLayoutLacksIsToldBesideTheDraft() throws IOException {
    Path layout = folder.resolve("layout.yaml");
    Files.writeString(
        layout,
        Files.readString(Path.of(DEMO)).replace("      clear: 0A.57.00.00.02.00.42.02\n", ""));
    Console answer = Console.run("draft", layout.toString());
    assertEquals(0, answer.status());
    assertTrue(
        answer.err().contains("signal 't4e' could come to show clear and has no event for it"),
        answer.err());
    assertTrue(answer.out().contains("speed: main-without-clear,"), answer.out());
  }
}
