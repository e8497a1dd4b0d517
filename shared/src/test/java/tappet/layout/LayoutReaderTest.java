package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.EventId;
import tappet.source.Place;
import tappet.source.Problems;

class LayoutReaderTest {

  private static final Path CONFIG = Path.of("..", "config");

  private final Problems problems = new Problems();

  @ParameterizedTest
  @ValueSource(strings = {"demo", "starter"})
  void layoutInConfigReadsWithoutAProblem(String folder) throws IOException {
    var text = Files.readString(CONFIG.resolve(folder).resolve("layout.yaml"));
    var layout = LayoutReader.read("layout.yaml", text, problems);
    assertEquals(List.of(), problems.sorted());
    assertTrue(layout.isPresent());
  }

  @Test
  void everythingWrittenIsInTheLayout() {
    var layout = LayoutReader.read("f", TinyLayout.TEXT, problems).orElseThrow();
    assertEquals(List.of(), problems.sorted());
    assertEquals(
        new Layout(
            "f",
            "Tiny",
            Map.of(
                "a", new Joint("a", 0, 0, new Place("f", 4, 3)),
                "b", new Joint("b", 2, 0, new Place("f", 5, 3)),
                "c", new Joint("c", 3.5, 0, new Place("f", 6, 3)),
                "d", new Joint("d", 3.5, -1, new Place("f", 7, 3))),
            Map.of(
                "main",
                    new Section(
                        "main",
                        "Main",
                        List.of("a", "b"),
                        3.2,
                        event("11.01"),
                        event("11.00"),
                        new Place("f", 9, 3)),
                "os",
                    new Section(
                        "os",
                        "os",
                        List.of(),
                        0.6,
                        event("12.01"),
                        event("12.00"),
                        new Place("f", 10, 3))),
            Map.of(
                "s",
                new Switch(
                    "s",
                    "s",
                    "os",
                    "b",
                    "c",
                    "d",
                    Map.of(Position.NORMAL, event("21.00"), Position.REVERSE, event("21.01")),
                    Map.of(Position.NORMAL, event("31.00"), Position.REVERSE, event("31.01")),
                    Duration.ofSeconds(4),
                    new Place("f", 12, 3))),
            Map.of(
                "e",
                new Signal(
                    "e",
                    "2E",
                    "b",
                    "os",
                    Map.of("stop", event("41.00"), "clear", event("41.01")),
                    new Place("f", 20, 3)))),
        layout);
  }

  @Test
  void listsKeepTheOrderOfTheFile() throws IOException {
    var text = Files.readString(Path.of("src", "test", "resources", "plain", "layout.yaml"));
    var layout = LayoutReader.read("f", text, problems).orElseThrow();
    assertEquals(
        List.of("s1", "t1", "t2", "c1", "c2", "y1", "y2", "y3"),
        List.copyOf(layout.switches().keySet()));
    assertEquals(
        List.of("stop", "approach", "clear"),
        List.copyOf(layout.signals().get("t4e").shows().keySet()));
  }

  @Test
  void problemsOfOtherFilesDoNotSpoilALayout() {
    problems.add(new Place("rules.yaml", 1, 1), "something else", "no matter");
    assertTrue(LayoutReader.read("f", TinyLayout.TEXT, problems).isPresent());
  }

  /** Drops, doubles and swaps pieces of a good file, as a hurried owner would. */
  @Test
  void damagedFileNeverThrows() {
    long seed = new Random().nextLong();
    System.out.println("LayoutReaderTest.damagedFileNeverThrows seed " + seed);
    var random = new Random(seed);
    for (int round = 0; round < 1_000; round++) {
      var text = new StringBuilder(TinyLayout.TEXT);
      for (int slip = 0; slip <= random.nextInt(4); slip++) {
        damage(text, random);
      }
      var noted = new Problems();
      var layout = LayoutReader.read("f", text.toString(), noted);
      assertEquals(layout.isPresent(), noted.none(), () -> "seed " + seed + "\n" + text);
    }
  }

  private static void damage(StringBuilder text, Random random) {
    int from = random.nextInt(text.length() - 20);
    int to = from + 1 + random.nextInt(19);
    switch (random.nextInt(3)) {
      case 0 -> text.delete(from, to);
      case 1 -> text.insert(random.nextInt(text.length()), text.substring(from, to));
      default -> text.setCharAt(from, "abcdes019:,[]{}' \n".charAt(random.nextInt(18)));
    }
  }

  private static EventId event(String end) {
    return EventId.of("0A.00.00.00.00.01." + end);
  }
}
