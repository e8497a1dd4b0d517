package tappet.bridge.journal;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.sqlite.SQLiteConfig;

/** An SQLite database that is open; on one thread. */
final class Database implements AutoCloseable {

  private final Connection connection;

  private Database(Connection connection) {
    this.connection = connection;
  }

  static Database open(Path file, SQLiteConfig config) throws SQLException {
    return new Database(config.createConnection("jdbc:sqlite:" + file));
  }

  PreparedStatement prepare(String sentence) throws SQLException {
    return connection.prepareStatement(sentence);
  }

  /** The first column of the first row; 0 where there is none. */
  long number(String query) throws SQLException {
    try (PreparedStatement statement = prepare(query)) {
      return number(statement);
    }
  }

  /** The first column of the first row; 0 where there is none. */
  static long number(PreparedStatement query) throws SQLException {
    try (ResultSet found = query.executeQuery()) {
      return found.next() ? found.getLong(1) : 0;
    }
  }

  /** How many rows it was; of several sentences, of the last. */
  int update(String sentences) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      return statement.executeUpdate(sentences);
    }
  }

  /** Runs a pragma that answers row by row, to its end. */
  void run(String pragma) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(pragma)) {
      while (rows.next()) {
        // each row is a step of the work
      }
    }
  }

  /** From now on what is written stands only once it is committed. */
  void commitBySentence() throws SQLException {
    connection.setAutoCommit(false);
  }

  /** What has been written since the last time stands from now on. */
  void commit() throws SQLException {
    connection.commit();
  }

  /** Gives it back; what was not committed is forgotten (sqlite.org/c3ref/close.html). */
  @Override
  public void close() throws SQLException {
    connection.close();
  }
}
