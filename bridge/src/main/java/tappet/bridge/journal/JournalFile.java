package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import tappet.bridge.record.Item;
import tappet.lcc.CanFrame;

/** A journal that is open for writing, on one thread. */
final class JournalFile implements Closeable {

  /** Clients come and go, each under a name of its own. */
  private static final int NAMES_MAX = 1_000;

  private static final String ENTRY =
      "INSERT INTO entry (seq, session, wall_us, box_us, minute, kind, about, who, text, number,"
          + " yes, local) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";
  private static final String FRAME =
      "INSERT INTO frame (seq, session, wall_us, box_us, minute, connection, header, data)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?)";

  private final Database database;
  private final PreparedStatement entries;
  private final PreparedStatement frames;
  private final Map<String, Integer> names = new HashMap<>();
  private long nextSeq;

  /**
   * @param database a journal's
   */
  JournalFile(Database database) throws SQLException {
    this.database = database;
    this.entries = database.prepare(ENTRY);
    this.frames = database.prepare(FRAME);
    this.nextSeq =
        1
            + database.number(
                "SELECT max(coalesce((SELECT max(seq) FROM entry), 0),"
                    + " coalesce((SELECT max(seq) FROM frame), 0),"
                    + " coalesce((SELECT max(first_seq) - 1 FROM session), 0))");
  }

  Database database() {
    return database;
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
        database.prepare(
            "INSERT INTO session (began_us, first_seq, whole, layout_file, rule_file, start)"
                + " VALUES (?, ?, ?, ?, ?, ?) RETURNING number")) {
      insert.setLong(1, beganUs);
      insert.setLong(2, nextSeq);
      insert.setBoolean(3, whole);
      insert.setInt(4, keep(beginning.layout()));
      insert.setInt(5, keep(beginning.rules()));
      insert.setString(6, start);
      return (int) Database.number(insert);
    }
  }

  /** Keeps a file once, however often it is run by. */
  private int keep(OwnerFile file) throws SQLException {
    try (PreparedStatement insert =
        database.prepare(
            "INSERT INTO file (sha256, name, text) VALUES (?, ?, ?)"
                + " ON CONFLICT (sha256) DO UPDATE SET name = excluded.name RETURNING number")) {
      insert.setString(1, file.digest());
      insert.setString(2, file.name());
      insert.setString(3, file.text());
      return (int) Database.number(insert);
    }
  }

  /** What the session before this one ran by otherwise: the names of files that have changed. */
  List<String> changedSince(int session) throws SQLException {
    List<String> changed = new ArrayList<>();
    for (String which : List.of("layout_file", "rule_file")) {
      try (PreparedStatement query =
          database.prepare(
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
    database.update(
        "UPDATE session SET ended_us = %d WHERE number = %d".formatted(endedUs, session));
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
        database.prepare(
            "INSERT INTO connection (name) VALUES (?)"
                + " ON CONFLICT (name) DO UPDATE SET name = excluded.name RETURNING number")) {
      insert.setString(1, name);
      int number = (int) Database.number(insert);
      names.put(name, number);
      return number;
    }
  }

  /** What has been written since the last time stands from now on. */
  void commit() throws SQLException {
    database.commit();
  }

  /** Gives it back; what was not committed is forgotten (sqlite.org/c3ref/close.html). */
  @Override
  public void close() throws IOException {
    try {
      database.close();
    } catch (SQLException e) {
      throw new IOException(e.getMessage(), e);
    }
  }
}
