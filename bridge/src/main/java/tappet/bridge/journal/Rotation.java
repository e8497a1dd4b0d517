package tappet.bridge.journal;

import java.sql.SQLException;
import java.time.Duration;

/**
 * Lets the oldest go, a little at a time, so that writing never waits long: first what is older
 * than is kept, then, where the file is too large, frames before words, oldest first. A session of
 * which something has gone is no longer whole; what the running one began with stays, whatever
 * goes.
 */
final class Rotation {

  /** Numbers that go at once; more than come in at once, or it would never catch up. */
  private static final int CHUNK = 4_000;

  /** Pages that are given back at once. */
  private static final int PAGES = 256;

  /** Space that is kept free for what comes, as a part of the most: so pages are used again. */
  private static final int RESERVE = 16;

  /** A clock that is wrong after a start has so long to be set right before anything goes by it. */
  static final Duration TRUST_AFTER = Duration.ofHours(1);

  private static final long NS_PER_US = 1_000;

  private final Database database;
  private final Limits limits;
  private final int session;
  private final long beganUs;

  /**
   * @param database a journal's
   * @param session the one that runs in it
   */
  Rotation(Database database, Limits limits, int session) throws SQLException {
    this.database = database;
    this.limits = limits;
    this.session = session;
    this.beganUs = database.number("SELECT began_us FROM session WHERE number = " + session);
  }

  /** Lets one chunk go, if any must. */
  void turn(Line latest) throws SQLException {
    boolean oldFrames = dropOld("frame", latest);
    boolean old = dropOld("entry", latest) || oldFrames;
    boolean large = !old && usedBytes() > limits.bytesMax() - limits.bytesMax() / RESERVE;
    if (old || (large && dropOldest())) {
      forgetEmptySessions();
    }
    giveBack();
    database.commit();
  }

  private boolean dropOld(String table, Line latest) throws SQLException {
    long first = first(table);
    long of = database.number("SELECT session FROM %s WHERE seq = %d".formatted(table, first));
    return of == session
        ? dropBefore("box_us", latest.boxUs(), table, first, of)
        : clockIsTrusted(latest) && dropBefore("wall_us", wallUs(latest), table, first, of);
  }

  private boolean dropBefore(String clock, long nowUs, String table, long first, long of)
      throws SQLException {
    long oldestUs = nowUs - limits.keep().toNanos() / NS_PER_US;
    return drop(table, first, " AND session = %d AND %s < %d".formatted(of, clock, oldestUs));
  }

  private static boolean clockIsTrusted(Line latest) {
    return latest.boxUs() >= TRUST_AFTER.toNanos() / NS_PER_US;
  }

  /** The time of day may have jumped since the session began: the earlier of the two counts. */
  private long wallUs(Line latest) {
    return Math.min(latest.wallUs(), beganUs + latest.boxUs());
  }

  private boolean dropOldest() throws SQLException {
    return drop("frame", first("frame"), "") || drop("entry", first("entry"), "");
  }

  private long first(String table) throws SQLException {
    return database.number("SELECT min(seq) FROM " + table);
  }

  private boolean drop(String table, long first, String which) throws SQLException {
    String chunk =
        "FROM %s WHERE seq >= %d AND seq < %d%s".formatted(table, first, first + CHUNK, which);
    long last = database.number("SELECT max(seq) " + chunk);
    if (last == 0) {
      return false;
    }
    database.update("DELETE " + chunk);
    database.update("UPDATE session SET whole = 0 WHERE whole = 1 AND first_seq <= " + last);
    return true;
  }

  private void forgetEmptySessions() throws SQLException {
    int gone =
        database.update(
            """
            DELETE FROM session WHERE number <> %d AND whole = 0
              AND NOT EXISTS (SELECT 1 FROM line WHERE seq >= session.first_seq AND seq <
                (SELECT min(first_seq) FROM session AS next WHERE next.number > session.number))
            """
                .formatted(session));
    if (gone > 0) {
      database.update(
          """
          DELETE FROM file WHERE number NOT IN
              (SELECT layout_file FROM session UNION SELECT rule_file FROM session)
            AND NOT EXISTS (SELECT 1 FROM entry WHERE kind = %d
              AND instr(text, name || ' ' || substr(sha256, 1, %d)) > 0)
          """
              .formatted(Kind.CHANGE.number(), OwnerFile.DIGITS_TOLD));
    }
  }

  private long usedBytes() throws SQLException {
    long pages = database.number("PRAGMA page_count") - database.number("PRAGMA freelist_count");
    return pages * database.number("PRAGMA page_size");
  }

  /** Only where the file itself is too large: else free pages are better used again. */
  private void giveBack() throws SQLException {
    long bytes = database.number("PRAGMA page_count") * database.number("PRAGMA page_size");
    if (bytes > limits.bytesMax()) {
      database.run("PRAGMA incremental_vacuum(%d)".formatted(PAGES));
    }
  }
}
