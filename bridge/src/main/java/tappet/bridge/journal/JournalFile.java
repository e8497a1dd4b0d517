package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Types;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteConfig.SynchronousMode;
import org.sqlite.SQLiteConfig.TempStore;
import tappet.bridge.record.Item;
import tappet.lcc.CanFrame;

/**
 * A journal that is open for writing, on one thread. It is written ahead (WAL), so that others may
 * read meanwhile, and is asked onto the disk only when the write-ahead log is full
 * (sqlite.org/pragma.html, synchronous = NORMAL: whole after a power cut, though the last of it may
 * be gone).
 */
final class JournalFile implements Closeable {

  /** "TPJL": no other program's database is taken for a journal. */
  static final int APPLICATION_ID = 0x54504A4C;

  /** Of the tables. */
  static final int EDITION = 1;

  private static final int BUSY_MS = 2_000;

  /** In kibibytes: pages that are held in memory. */
  private static final int CACHE_KIB = 512;

  /** A log that has grown on a bad day is cut back to this. */
  private static final int LOG_BYTES_MAX = 4_194_304;

  /** Clients come and go, each under a name of its own. */
  private static final int NAMES_MAX = 1_000;

  private static final String ENTRY =
      "INSERT INTO entry (seq, session, wall_us, box_us, minute, kind, about, who, text, number,"
          + " yes, local) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";
  private static final String FRAME =
      "INSERT INTO frame (seq, session, wall_us, box_us, minute, connection, header, data)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?)";

  private final Connection connection;
  private final PreparedStatement entries;
  private final PreparedStatement frames;
  private final Map<String, Integer> names = new HashMap<>();
  private long nextSeq;

  private JournalFile(Connection connection) throws SQLException {
    this.connection = connection;
    this.entries = connection.prepareStatement(ENTRY);
    this.frames = connection.prepareStatement(FRAME);
    this.nextSeq =
        1
            + number(
                "SELECT max(coalesce((SELECT max(seq) FROM entry), 0),"
                    + " coalesce((SELECT max(seq) FROM frame), 0),"
                    + " coalesce((SELECT max(first_seq) - 1 FROM session), 0))");
  }

  /**
   * Opens a journal, and makes one where there is none.
   *
   * @param look whether one whose last session did not end in order is looked through first
   * @throws Damaged if nobody may go on writing in it
   * @throws IOException if it is another program's, or a later Tappet's
   */
  static JournalFile open(Path file, boolean look) throws SQLException, IOException, Damaged {
    Connection connection = config().createConnection("jdbc:sqlite:" + file);
    try {
      writeAhead(connection);
      prepare(file, connection, look);
      return new JournalFile(connection);
    } catch (SQLException | IOException | Damaged | RuntimeException e) {
      connection.close();
      throw e;
    }
  }

  private static SQLiteConfig config() {
    SQLiteConfig config = new SQLiteConfig();
    config.setSynchronous(SynchronousMode.NORMAL);
    config.setBusyTimeout(BUSY_MS);
    config.setCacheSize(-CACHE_KIB);
    config.setTempStore(TempStore.MEMORY);
    config.setJournalSizeLimit(LOG_BYTES_MAX);
    return config;
  }

  /** In this order: pages can be given back only if that was said before the first was written. */
  private static void writeAhead(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("PRAGMA auto_vacuum = INCREMENTAL");
      statement.execute("PRAGMA journal_mode = WAL");
    }
    connection.setAutoCommit(false);
  }

  private static void prepare(Path file, Connection connection, boolean look)
      throws SQLException, IOException, Damaged {
    if (number(connection, "SELECT count(*) FROM sqlite_schema") == 0) {
      create(connection);
      return;
    }
    if (number(connection, "PRAGMA application_id") != APPLICATION_ID) {
      throw new IOException(file + " is another program's; name another file for the journal");
    }
    long edition = number(connection, "PRAGMA user_version");
    if (edition != EDITION) {
      throw new IOException(
          "%s is a journal of edition %d, and this Tappet writes %d; name another file"
              .formatted(file, edition, EDITION));
    }
    boolean endedInOrder =
        number(
                connection,
                "SELECT count(*) FROM session WHERE ended_us IS NULL"
                    + " AND number = (SELECT max(number) FROM session)")
            == 0;
    if (look && !endedInOrder) {
      check(connection);
    }
  }

  private static void check(Connection connection) throws SQLException, Damaged {
    try (Statement statement = connection.createStatement();
        ResultSet found = statement.executeQuery("PRAGMA quick_check(1)")) {
      String told = found.next() ? found.getString(1) : "nothing";
      if (!told.equals("ok")) {
        throw new Damaged(told, null);
      }
    }
  }

  private static void create(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.executeUpdate(schema());
      statement.executeUpdate("PRAGMA application_id = " + APPLICATION_ID);
      statement.executeUpdate("PRAGMA user_version = " + EDITION);
    }
    try (PreparedStatement kinds =
        connection.prepareStatement("INSERT INTO kind (number, word, topic) VALUES (?, ?, ?)")) {
      for (Kind kind : Kind.values()) {
        kinds.setInt(1, kind.number());
        kinds.setString(2, kind.word());
        kinds.setString(3, kind.topic().word());
        kinds.executeUpdate();
      }
    }
    connection.commit();
  }

  private static String schema() {
    try (InputStream found = JournalFile.class.getResourceAsStream("/journal/schema.sql")) {
      return new String(found.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The number of the next thing that is written. */
  long nextSeq() {
    return nextSeq;
  }

  /** Goes on with a higher number: numbers that were used up elsewhere are not used again. */
  void goOnAt(long seq) {
    nextSeq = Math.max(nextSeq, seq);
  }

  /**
   * Begins a session.
   *
   * @param whole whether all of it will stand here, from its start
   * @param start the lines of a recording that say what the box knew
   * @return its number
   */
  int begin(long beganUs, boolean whole, Journal.Beginning beginning, String start)
      throws SQLException {
    try (PreparedStatement insert =
        connection.prepareStatement(
            "INSERT INTO session (began_us, first_seq, whole, layout_file, rule_file, start)"
                + " VALUES (?, ?, ?, ?, ?, ?) RETURNING number")) {
      insert.setLong(1, beganUs);
      insert.setLong(2, nextSeq);
      insert.setBoolean(3, whole);
      insert.setInt(4, keep(beginning.layout()));
      insert.setInt(5, keep(beginning.rules()));
      insert.setString(6, start);
      return (int) only(insert);
    }
  }

  /** Keeps a file once, however often it is run by. */
  private int keep(OwnerFile file) throws SQLException {
    try (PreparedStatement insert =
        connection.prepareStatement(
            "INSERT INTO file (sha256, name, text) VALUES (?, ?, ?)"
                + " ON CONFLICT (sha256) DO UPDATE SET name = excluded.name RETURNING number")) {
      insert.setString(1, file.digest());
      insert.setString(2, file.name());
      insert.setString(3, file.text());
      return (int) only(insert);
    }
  }

  /** What the session before this one ran by otherwise: the names of files that have changed. */
  List<String> changedSince(int session) throws SQLException {
    List<String> changed = new ArrayList<>();
    for (String which : List.of("layout_file", "rule_file")) {
      try (PreparedStatement query =
          connection.prepareStatement(
              """
              SELECT file.name || ' ' || substr(file.sha256, 1, %2$d) FROM session AS now
                JOIN session AS before
                  ON before.number = (SELECT max(number) FROM session WHERE number < now.number)
                JOIN file ON file.number = now.%1$s
                WHERE now.number = ? AND now.%1$s <> before.%1$s
              """
                  .formatted(which, OwnerFile.DIGITS_TOLD))) {
        query.setInt(1, session);
        try (ResultSet found = query.executeQuery()) {
          while (found.next()) {
            changed.add(found.getString(1));
          }
        }
      }
    }
    return changed;
  }

  /** A session has ended in order. */
  void end(int session, long endedUs) throws SQLException {
    update("UPDATE session SET ended_us = %d WHERE number = %d".formatted(endedUs, session));
  }

  void write(int session, Line line) throws SQLException {
    if (line.what() instanceof Kept.Heard heard) {
      frame(session, line, heard.frame().frame(), heard.connection());
    } else if (line.what() instanceof Kept.Taken taken && taken.item() instanceof Item.Sent sent) {
      frame(session, line, sent.frame(), null);
    } else if (line.what() instanceof Kept.RunsBy files) {
      keep(files.layout());
      keep(files.rules());
      write(session, line, Row.of(files));
    } else {
      write(session, line, Row.of(line.what()));
    }
  }

  private void frame(int session, Line line, CanFrame frame, String from) throws SQLException {
    setClocks(frames, session, line);
    setNumber(frames, 6, from == null ? null : (long) numberOf(from));
    frames.setLong(7, frame.header());
    byte[] data = new byte[frame.length()];
    for (int index = 0; index < data.length; index++) {
      data[index] = (byte) frame.dataByte(index);
    }
    frames.setBytes(8, data);
    frames.executeUpdate();
  }

  void write(int session, Line line, Row row) throws SQLException {
    setClocks(entries, session, line);
    entries.setInt(6, row.kind().number());
    entries.setString(7, row.about());
    entries.setString(8, row.who());
    entries.setString(9, row.text());
    setNumber(entries, 10, row.number());
    setNumber(entries, 11, row.yes() == null ? null : row.yes() ? 1L : 0L);
    entries.setString(12, row.local());
    entries.executeUpdate();
  }

  private void setClocks(PreparedStatement statement, int session, Line line) throws SQLException {
    statement.setLong(1, nextSeq++);
    statement.setInt(2, session);
    statement.setLong(3, line.wallUs());
    statement.setLong(4, line.boxUs());
    setNumber(statement, 5, line.minute() == Line.NO_MINUTE ? null : (long) line.minute());
  }

  private static void setNumber(PreparedStatement statement, int index, Long number)
      throws SQLException {
    if (number == null) {
      statement.setNull(index, Types.INTEGER);
    } else {
      statement.setLong(index, number);
    }
  }

  private int numberOf(String name) throws SQLException {
    Integer known = names.get(name);
    if (known != null) {
      return known;
    }
    if (names.size() >= NAMES_MAX) {
      names.clear();
    }
    try (PreparedStatement insert =
        connection.prepareStatement(
            "INSERT INTO connection (name) VALUES (?)"
                + " ON CONFLICT (name) DO UPDATE SET name = excluded.name RETURNING number")) {
      insert.setString(1, name);
      int number = (int) only(insert);
      names.put(name, number);
      return number;
    }
  }

  private static long only(PreparedStatement statement) throws SQLException {
    try (ResultSet found = statement.executeQuery()) {
      found.next();
      return found.getLong(1);
    }
  }

  /** What has been written since the last time stands from now on. */
  void commit() throws SQLException {
    connection.commit();
  }

  /** The first column of the first row; 0 where there is none. */
  long number(String query) throws SQLException {
    return number(connection, query);
  }

  private static long number(Connection connection, String query) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet found = statement.executeQuery(query)) {
      return found.next() ? found.getLong(1) : 0;
    }
  }

  /** How many rows it was. */
  int update(String sentence) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      return statement.executeUpdate(sentence);
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

  /** Gives it back; what was not committed is forgotten (sqlite.org/c3ref/close.html). */
  @Override
  public void close() throws IOException {
    try {
      connection.close();
    } catch (SQLException e) {
      throw new IOException(e.getMessage(), e);
    }
  }
}
