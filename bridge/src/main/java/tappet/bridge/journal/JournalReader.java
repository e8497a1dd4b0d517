package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.sqlite.SQLiteConfig;

/**
 * A journal that is open for reading, also while a daemon writes in it; on one thread. Faults of
 * the file come as {@link IOException} in an owner's words.
 */
final class JournalReader implements Closeable {

  private static final int BUSY_MS = 2_000;

  private final Path path;
  private final Connection connection;

  private JournalReader(Path path, Connection connection) {
    this.path = path;
    this.connection = connection;
  }

  static JournalReader open(Path path) throws IOException {
    if (!Files.isRegularFile(path)) {
      throw new IOException("there is no journal " + path);
    }
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    config.setBusyTimeout(BUSY_MS);
    try {
      JournalReader reader =
          new JournalReader(path, config.createConnection("jdbc:sqlite:" + path));
      reader.check();
      return reader;
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }

  private void check() throws SQLException, IOException {
    long id = number("PRAGMA application_id");
    long edition = number("PRAGMA user_version");
    if (id != JournalFile.APPLICATION_ID || edition != JournalFile.EDITION) {
      connection.close();
      throw new IOException(path + " is no journal that this Tappet can read");
    }
  }

  private long number(String query) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet found = statement.executeQuery(query)) {
      return found.next() ? found.getLong(1) : 0;
    }
  }

  /** Tells each line that is asked for, in order, as it is read. */
  void find(Query query, Consumer<Found> taker) throws IOException {
    Sql sql = Sql.of(query);
    try (PreparedStatement statement = connection.prepareStatement(sql.text())) {
      for (int index = 0; index < sql.values().size(); index++) {
        statement.setObject(index + 1, sql.values().get(index));
      }
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          taker.accept(found(rows));
        }
      }
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }

  /** A query in SQL: only words of ours stand in the text, and what people write in the values. */
  private record Sql(String text, List<Object> values) {

    private static final String SAYS =
        "coalesce(about, '') || ' ' || coalesce(who, '') || ' ' || coalesce(text, '')"
            + " LIKE ? ESCAPE '\\'";

    /** What a line must meet; all of it. */
    private record Conditions(List<String> texts, List<Object> values) {

      void add(String text, Object value) {
        texts.add(text);
        values.add(value);
      }
    }

    static Sql of(Query query) {
      Conditions all = new Conditions(new ArrayList<>(List.of("1")), new ArrayList<>());
      query.sinceUs().ifPresent(us -> all.add("wall_us >= ?", us));
      query.untilUs().ifPresent(us -> all.add("wall_us < ?", us));
      query.before().ifPresent(number -> all.add("seq < ?", number));
      query.session().ifPresent(number -> all.add("session = ?", number));
      query.about().ifPresent(device -> all.add("about = ?", device));
      query.who().ifPresent(person -> all.add("who = ? COLLATE NOCASE", person));
      query.text().ifPresent(text -> all.add(SAYS, "%" + literally(text) + "%"));
      if (!query.topics().isEmpty()) {
        all.texts().add("kind IN (" + kinds(query) + ")");
      }
      all.values().add(query.limit());
      return new Sql(select(query, String.join(" AND ", all.texts())), all.values());
    }

    private static String select(Query query, String where) {
      return "SELECT * FROM %s WHERE %s ORDER BY seq%s LIMIT ?"
          .formatted(
              query.topics().contains(Topic.FRAMES) ? "line" : "entry",
              where,
              query.latestFirst() ? " DESC" : "");
    }

    private static String kinds(Query query) {
      return List.of(Kind.values()).stream()
          .filter(kind -> query.topics().contains(kind.topic()))
          .map(kind -> String.valueOf(kind.number()))
          .collect(Collectors.joining(", "));
    }

    private static String literally(String text) {
      return text.replaceAll("[\\\\%_]", "\\\\$0");
    }
  }

  private static Found found(ResultSet row) throws SQLException {
    int minute = row.getInt("minute");
    Found.Clocks clocks =
        new Found.Clocks(
            row.getLong("box_us"), row.getLong("wall_us"), row.wasNull() ? Line.NO_MINUTE : minute);
    long number = row.getLong("number");
    Long numberOrNull = row.wasNull() ? null : (Long) number;
    boolean yes = row.getInt("yes") != 0;
    Boolean yesOrNull = row.wasNull() ? null : (Boolean) yes;
    return new Found(
        row.getLong("seq"),
        row.getInt("session"),
        clocks,
        new Row(
            Kind.of(row.getInt("kind")),
            row.getString("about"),
            row.getString("who"),
            row.getString("text"),
            numberOrNull,
            yesOrNull,
            row.getString("local")));
  }

  /** All sessions, the oldest first. */
  List<PastSession> sessions() throws IOException {
    List<PastSession> sessions = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                """
                SELECT session.number, began_us, ended_us, whole, start, layout.name,
                    layout.text, rules.name, rules.text
                  FROM session
                  JOIN file AS layout ON layout.number = layout_file
                  JOIN file AS rules ON rules.number = rule_file
                  ORDER BY session.number
                """)) {
      while (row.next()) {
        long endedUs = row.getLong(3);
        OptionalLong ended = row.wasNull() ? OptionalLong.empty() : OptionalLong.of(endedUs);
        sessions.add(
            new PastSession(
                row.getInt(1),
                row.getLong(2),
                ended,
                row.getBoolean(4),
                new OwnerFile(row.getString(6), row.getString(7)),
                new OwnerFile(row.getString(8), row.getString(9)),
                row.getString(5)));
      }
      return sessions;
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }

  @Override
  public void close() throws IOException {
    try {
      connection.close();
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }
}
