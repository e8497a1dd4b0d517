package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;

/** Looks through a journal that nobody writes in just now. */
public final class JournalCheck {

  /** The box's time never runs back within a session, nor sessions within the journal. */
  private static final String BACKWARD =
      """
      SELECT count(*) FROM (
        SELECT session, box_us,
          lag(session) OVER (ORDER BY seq) AS session_before,
          lag(box_us) OVER (PARTITION BY session ORDER BY seq) AS box_us_before
          FROM line)
        WHERE box_us < box_us_before OR session < session_before
      """;

  private JournalCheck() {}

  /**
   * Checks that it is whole and in order; one that is not there yet is.
   *
   * @throws AssertionError if it is not, or if one was put aside as damaged
   */
  public static void check(Path journal) throws IOException {
    if (!Files.exists(journal)) {
      return;
    }
    try (var files = Files.list(journal.resolveSibling(""))) {
      List<Path> damaged = files.filter(file -> file.toString().contains(".damaged-")).toList();
      demand(damaged.isEmpty(), "put aside: " + damaged);
    }
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + journal);
        Statement statement = connection.createStatement()) {
      String whole = first(statement, "PRAGMA integrity_check");
      demand(whole.equals("ok"), whole);
      demand(first(statement, "PRAGMA foreign_key_check").isEmpty(), "a row refers to nothing");
      demand(first(statement, BACKWARD).equals("0"), "its lines are out of order");
    } catch (SQLException e) {
      throw new AssertionError(journal + ": " + e.getMessage(), e);
    }
  }

  private static String first(Statement statement, String query) throws SQLException {
    try (ResultSet found = statement.executeQuery(query)) {
      return found.next() ? found.getString(1) : "";
    }
  }

  private static void demand(boolean isSo, String otherwise) {
    if (!isSo) {
      throw new AssertionError("the journal: " + otherwise);
    }
  }
}
