package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.replay.RecordedRehearsal;

/** {@code tappet journal} on what a rehearsal left behind; common practice, no source. */
class JournalCommandTest {

  @TempDir private static Path folder;
  private static String journal;

  @BeforeAll
  static void rehearse() throws IOException {
    Path file = folder.resolve("journal");
    assertTrue(RecordedRehearsal.keep("31-permit.yaml", file).passed());
    journal = file.toString();
  }

  @Test
  void whoSaidWhatIsFound() {
    Console told =
        Console.run(
            "journal", journal, "--kind", "orders", "--who", "THE SCENARIO", "--last", "1h");
    assertEquals(0, told.status(), told.err());
    assertTrue(told.out().contains("told        the scenario: grant permit to "), told.out());
    assertEquals(
        told.out().lines().skip(told.out().lines().count() - 1).toList(),
        Console.run("journal", journal, "--who", "the scenario", "--limit", "1")
            .out()
            .lines()
            .toList());
    assertEquals("", Console.run("journal", journal, "--since", "2100-01-01").out());
    assertEquals("", Console.run("journal", journal, "--until", "1999-01-01 18:00").out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "--kind trains | there is no kind 'trains'; there are",
        "--last soon | --last is 'soon'; write such as 30m, 2h or 3d",
        "--since noon | 'noon' is no time; write such as 18:00 or 2026-11-26T18:00",
        "--limit 0 | --limit is 1 or more"
      })
  void whatIsNotUnderstoodIsSaidWithAnExample(String options, String words) {
    String[] option = options.split(" ", 2);
    Console told = Console.run("journal", journal, option[0], option[1]);
    assertEquals(2, told.status());
    assertTrue(told.err().startsWith(words), told.err());
  }

  /** RFC 8259 §8.1 for JSON; a recording's check sum stands for the letters as they were. */
  @ParameterizedTest
  @ValueSource(strings = {"--json-lines", "--csv", "--frames"})
  void whatProgramsReadIsInUtf8WhateverTheConsoleCanShow(String form) throws Exception {
    Path other = Files.copy(Path.of(journal), folder.resolve("journal" + form));
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + other);
        Statement statement = connection.createStatement()) {
      statement.executeUpdate("UPDATE entry SET who = 'Jürgen' WHERE kind = 20");
    }

    Console told = Console.runIn(StandardCharsets.US_ASCII, "journal", other.toString(), form);

    assertEquals(0, told.status(), told.err());
    assertTrue(told.out().contains("Jürgen"), told.out());
  }

  @Test
  void journalThatIsNotThereIsAClearError() {
    Path nowhere = folder.resolve("nowhere");
    Console told = Console.run("journal", nowhere.toString());
    assertEquals(1, told.status());
    assertEquals("there is no journal " + nowhere + "\n", told.err());
  }
}
