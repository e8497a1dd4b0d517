package tappet.bridge.journal;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteConfig.SynchronousMode;
import org.sqlite.SQLiteConfig.TempStore;

/**
 * Opens a journal: makes its tables where there is none, and takes no other program's database for
 * one. Its views are always this Tappet's.
 *
 * <p>It is written ahead (WAL), so that others may read meanwhile, and is asked onto the disk only
 * when the write-ahead log is full (sqlite.org/pragma.html, synchronous = NORMAL: whole after a
 * power cut, though the last of it may be gone).
 */
final class JournalDatabase {

  /** "TPJL": no other program's database is taken for a journal. */
  private static final int APPLICATION_ID = 0x54504A4C;

  /** Of the tables. */
  private static final int EDITION = 1;

  private static final String WHOSE = "PRAGMA application_id";
  private static final String WHICH_EDITION = "PRAGMA user_version";

  private static final int BUSY_MS = 2_000;

  /** In kibibytes: pages that are held in memory. */
  private static final int CACHE_KIB = 512;

  /** A log that has grown on a bad day is cut back to this. */
  private static final int LOG_BYTES_MAX = 4_194_304;

  private JournalDatabase() {}

  /**
   * Opens one for reading, also while a daemon writes in it.
   *
   * @throws IOException if it is another program's, or of another edition
   */
  static Database forReading(Path file) throws SQLException, IOException {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    config.setBusyTimeout(BUSY_MS);
    Database database = Database.open(file, config);
    try {
      if (database.number(WHOSE) != APPLICATION_ID || database.number(WHICH_EDITION) != EDITION) {
        throw new IOException(file + " is no journal that this Tappet can read");
      }
      return database;
    } catch (SQLException | IOException e) {
      database.close();
      throw e;
    }
  }

  /**
   * Opens one for writing, and makes one where there is none.
   *
   * @param look whether one whose last session did not end in order is looked through first
   * @throws Damaged if nobody may go on writing in it
   * @throws IOException if it is another program's, or a later Tappet's
   */
  static Database forWriting(Path file, boolean look) throws SQLException, IOException, Damaged {
    Database database = Database.open(file, writing());
    try {
      boolean isNew = database.number("SELECT count(*) FROM sqlite_schema") == 0;
      if (!isNew) {
        refuseOthers(file, database);
      }
      writeAhead(database);
      if (isNew) {
        create(database);
      } else if (look && brokeOff(database)) {
        check(database);
      }
      makeViews(database);
      return database;
    } catch (SQLException | IOException | Damaged | RuntimeException e) {
      database.close();
      throw e;
    }
  }

  private static SQLiteConfig writing() {
    SQLiteConfig config = new SQLiteConfig();
    config.setSynchronous(SynchronousMode.NORMAL);
    config.setBusyTimeout(BUSY_MS);
    config.setCacheSize(-CACHE_KIB);
    config.setTempStore(TempStore.MEMORY);
    config.setJournalSizeLimit(LOG_BYTES_MAX);
    return config;
  }

  /**
   * In this order: pages can be given back only if that was said before the first was written. Not
   * before others are refused: theirs would stay written ahead.
   */
  private static void writeAhead(Database database) throws SQLException {
    database.update("PRAGMA auto_vacuum = INCREMENTAL");
    database.run("PRAGMA journal_mode = WAL");
    database.commitBySentence();
  }

  private static void create(Database database) throws SQLException {
    database.update(sql("tables"));
    database.update(WHOSE + " = " + APPLICATION_ID);
    database.update(WHICH_EDITION + " = " + EDITION);
    try (PreparedStatement kinds =
        database.prepare("INSERT INTO kind (number, word, topic) VALUES (?, ?, ?)")) {
      for (Kind kind : Kind.values()) {
        kinds.setInt(1, kind.number());
        kinds.setString(2, kind.word());
        kinds.setString(3, kind.topic().word());
        kinds.executeUpdate();
      }
    }
    database.commit();
  }

  /** Views hold nothing: an earlier Tappet's are replaced, so that its mistakes do not stay. */
  private static void makeViews(Database database) throws SQLException {
    database.update(sql("views"));
    database.commit();
  }

  private static String sql(String name) {
    String resource = "/journal/%s.sql".formatted(name);
    try (InputStream found = JournalDatabase.class.getResourceAsStream(resource)) {
      return new String(found.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void refuseOthers(Path file, Database database) throws SQLException, IOException {
    if (database.number(WHOSE) != APPLICATION_ID) {
      throw new IOException(file + " is another program's; name another file for the journal");
    }
    long edition = database.number(WHICH_EDITION);
    if (edition != EDITION) {
      throw new IOException(
          "%s is a journal of edition %d, and this Tappet writes %d; name another file"
              .formatted(file, edition, EDITION));
    }
  }

  private static boolean brokeOff(Database database) throws SQLException {
    return database.number(
            "SELECT count(*) FROM session WHERE ended_us IS NULL"
                + " AND number = (SELECT max(number) FROM session)")
        > 0;
  }

  private static void check(Database database) throws SQLException, Damaged {
    try (PreparedStatement check = database.prepare("PRAGMA quick_check(1)");
        ResultSet found = check.executeQuery()) {
      String told = found.next() ? found.getString(1) : "nothing";
      if (!told.equals("ok")) {
        throw new Damaged(told, null);
      }
    }
  }
}
