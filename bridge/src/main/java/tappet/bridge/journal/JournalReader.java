package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/**
 * A journal that is open for reading, also while a daemon writes in it; on one thread. Faults of
 * the file come as {@link IOException} in an owner's words.
 */
final class JournalReader implements Closeable {

  /** So many lines are read at once. */
  private static final int PIECE = 2_000;

  private static final String SESSIONS =
      """
      SELECT session.number, began_us, ended_us, whole, start,
          layout.name AS layout_name, layout.text AS layout_text,
          rules.name AS rules_name, rules.text AS rules_text
        FROM session
        JOIN file AS layout ON layout.number = layout_file
        JOIN file AS rules ON rules.number = rule_file
        ORDER BY session.number
      """;

  private final Path path;
  private final Database database;

  private JournalReader(Path path, Database database) {
    this.path = path;
    this.database = database;
  }

  static JournalReader open(Path path) throws IOException {
    if (!Files.isRegularFile(path)) {
      throw new IOException("there is no journal " + path);
    }
    try {
      return new JournalReader(path, JournalDatabase.forReading(path));
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }

  /**
   * Tells each line that is asked for, in order. They are read piece by piece: while a piece is
   * told, however long that takes, nothing is held open. Else the daemon's write-ahead log could
   * not be cut back, and would grow for as long as somebody looks at the first page.
   */
  void find(Query query, Consumer<Found> taker) throws IOException {
    int left = query.limit();
    OptionalLong latest = OptionalLong.empty();
    while (left > 0) {
      int asked = Math.min(left, PIECE);
      List<Found> piece = piece(query, latest, asked);
      piece.forEach(taker);
      if (piece.size() < asked) {
        return;
      }
      left -= asked;
      latest = OptionalLong.of(piece.get(asked - 1).seq());
    }
  }

  private List<Found> piece(Query query, OptionalLong latest, int count) throws IOException {
    Sql sql = Sql.of(query, latest, count);
    List<Found> piece = new ArrayList<>();
    try (PreparedStatement statement = database.prepare(sql.text())) {
      for (int index = 0; index < sql.values().size(); index++) {
        statement.setObject(index + 1, sql.values().get(index));
      }
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          piece.add(found(rows));
        }
      }
      return piece;
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

    /**
     * @param latest the number of the line before; empty: it is the first
     */
    static Sql of(Query query, OptionalLong latest, int count) {
      Conditions all = new Conditions(new ArrayList<>(List.of("1")), new ArrayList<>());
      query.sinceUs().ifPresent(us -> all.add("wall_us >= ?", us));
      query.untilUs().ifPresent(us -> all.add("wall_us < ?", us));
      query.before().ifPresent(number -> all.add("seq < ?", number));
      String further = query.latestFirst() ? "seq < ?" : "seq > ?";
      latest.ifPresent(number -> all.add(further, number));
      query.session().ifPresent(number -> all.add("session = ?", number));
      query.about().ifPresent(device -> all.add("about = ?", device));
      query.who().ifPresent(person -> all.add("who = ? COLLATE NOCASE", person));
      query.text().ifPresent(text -> all.add(SAYS, "%" + literally(text) + "%"));
      if (!query.topics().isEmpty()) {
        all.texts().add("kind IN (" + kinds(query) + ")");
      }
      all.values().add(count);
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
    OptionalLong yes = number(row, "yes");
    return new Found(
        row.getLong("seq"),
        row.getInt("session"),
        new Found.Clocks(
            row.getLong("box_us"),
            row.getLong("wall_us"),
            (int) number(row, "minute").orElse(Line.NO_MINUTE)),
        new Row(
            Kind.of(row.getInt("kind")),
            row.getString("about"),
            row.getString("who"),
            row.getString("text"),
            orNull(number(row, "number")),
            yes.isEmpty() ? null : (Boolean) (yes.getAsLong() != 0),
            row.getString("local")));
  }

  private static Long orNull(OptionalLong number) {
    return number.isEmpty() ? null : (Long) number.getAsLong();
  }

  /** Empty where nothing is known. JDBC tells that of the latest column only. */
  private static OptionalLong number(ResultSet row, String column) throws SQLException {
    long number = row.getLong(column);
    return row.wasNull() ? OptionalLong.empty() : OptionalLong.of(number);
  }

  /** All sessions, the oldest first. */
  List<PastSession> sessions() throws IOException {
    List<PastSession> sessions = new ArrayList<>();
    try (PreparedStatement all = database.prepare(SESSIONS);
        ResultSet rows = all.executeQuery()) {
      while (rows.next()) {
        sessions.add(session(rows));
      }
      return sessions;
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }

  private static PastSession session(ResultSet row) throws SQLException {
    return new PastSession(
        row.getInt("number"),
        row.getLong("began_us"),
        number(row, "ended_us"),
        row.getBoolean("whole"),
        new OwnerFile(row.getString("layout_name"), row.getString("layout_text")),
        new OwnerFile(row.getString("rules_name"), row.getString("rules_text")),
        row.getString("start"));
  }

  @Override
  public void close() throws IOException {
    try {
      database.close();
    } catch (SQLException e) {
      throw SqlFaults.inWords(path, e);
    }
  }
}
