package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** {@code tappet session} on real files. */
class SessionCommandTest {

  private static final Path DEMO = Path.of("..", "config", "demo");

  private static final String TRAINS =
      """
      session: Two trains meet
      clock: {rate: 4, time: 06:00}
      trains:
        - {train: East, length: 1.2 m, from: fallow-1, to: corvane-main, at: 06:01, then: is lifted}
        - {train: West, length: 1.2 m, from: mill-branch, to: fallow-2, at: 06:01, then: is lifted}
      """;

  @TempDir private Path folder;

  @Test
  void sessionIsRunAndTold() throws IOException {
    Console told = session(TRAINS, "--hours", "0.2");
    assertEquals(0, told.status(), told.out() + told.err());
    assertTrue(told.out().startsWith("Two trains meet\n"), told.out());
    assertTrue(told.out().contains("  East  planned 06:01, began 06:01, arrived 06:"), told.out());
    assertTrue(told.out().contains("\n2 of 2 runs arrived\n"), told.out());
    assertTrue(told.out().contains("\n0 mishaps\n"), told.out());
  }

  @Test
  void journalIsWrittenAndDependsOnNothingButTheSeed() throws IOException {
    String one = journal("1");
    assertTrue(one.contains("  line route f2e-t2e for East\n"), one);
    assertTrue(one.lines().allMatch(line -> line.matches("\\d+\\.\\d{3}  \\S.*")), one);
    assertEquals(one, journal("1"));
    assertNotEquals(one, journal("2"));
  }

  private String journal(String seed) throws IOException {
    Path file = folder.resolve("journal.txt");
    Console told = session(TRAINS, "--hours", "0.2", "--seed", seed, "--journal", file.toString());
    assertEquals(0, told.status(), told.out());
    return Files.readString(file);
  }

  /** Nobody can get by a train that stays where the other is to end. */
  @Test
  void trainThatNeverArrivesIsToldAndTheStatusSaysSo() throws IOException {
    String trains =
        TRAINS.replace("to: fallow-2, at: 06:01, then: is lifted", "to: fallow-2, at: 06:01")
            + "  - {train: Late, length: 1 m, from: creamery, to: fallow-2, at: 06:02}\n";
    Console told = session(trains, "--hours", "1");
    assertEquals(1, told.status(), told.out());
    assertTrue(
        told.out().contains("kept back, for every train must still get to its end"), told.out());
    assertTrue(told.out().contains("\n2 of 3 runs arrived\n"), told.out());
  }

  @Test
  void everyMistakeIsToldAndNothingIsRun() throws IOException {
    Console told = session(TRAINS.replace("fallow-2", "mill-road").replace("06:01", "6:1"));
    assertEquals(1, told.status());
    assertEquals(2, told.out().lines().count(), told.out());
    Console way = session(TRAINS.replace("fallow-2", "mill-road"));
    assertTrue(
        way.out().contains("no way leads 'West' to section 'mill-road' from what comes before it"),
        way.out());
  }

  @ParameterizedTest
  @ValueSource(strings = {"0", "-1", "NaN", "10000"})
  void hoursThatMakeNoSessionAreNotUnderstood(String hours) throws IOException {
    assertEquals(2, session(TRAINS, "--hours", hours).status());
  }

  private Console session(String trains, String... options) throws IOException {
    Path file = Files.writeString(folder.resolve("trains.yaml"), trains);
    List<String> arguments =
        new ArrayList<>(
            List.of(
                "session",
                DEMO.resolve("layout.yaml").toString(),
                DEMO.resolve("rules.yaml").toString(),
                file.toString()));
    arguments.addAll(List.of(options));
    return Console.run(arguments.toArray(String[]::new));
  }
}
