package tappet.bridge.journal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.record.Book;
import tappet.bridge.record.Entry;
import tappet.bridge.record.EntryText;
import tappet.bridge.record.Item;
import tappet.bridge.record.Trouble;

/**
 * The journal's file, whatever befalls it: opened when it is first needed, and anew after each
 * trouble; put aside where it is damaged.
 */
final class JournalBook implements Book<Line> {

  private static final Logger LOG = LoggerFactory.getLogger(JournalBook.class);
  private static final DateTimeFormatter ASIDE =
      DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss").withZone(ZoneOffset.UTC);

  /** What SQLite has beside a database (sqlite.org/walformat.html, §1). */
  private static final List<String> PARTS = List.of("", "-wal", "-shm");

  private static final long US_PER_SECOND = 1_000_000;

  private final Path path;
  private final Journal.Beginning beginning;
  private final Limits limits;
  private final Trouble trouble;

  private Optional<Writing> writing = Optional.empty();
  private Optional<Line> begun = Optional.empty();
  private final List<String> remarks = new ArrayList<>();
  private boolean looked;
  private long nextSeq;

  /** A file that is open, with the session that runs in it. */
  private record Writing(JournalFile file, int session, Rotation rotation) {}

  JournalBook(Path path, Journal.Beginning beginning, Limits limits, Trouble trouble) {
    this.path = path;
    this.beginning = beginning;
    this.limits = limits;
    this.trouble = trouble;
  }

  @Override
  public String name() {
    return "the journal " + path.getFileName();
  }

  @Override
  public void append(List<Line> lines, long missing) throws IOException {
    try {
      write(lines, missing);
    } catch (Damaged damage) {
      putAside(lines.get(0).wallUs(), damage);
      writeInNewFile(lines, missing);
    }
  }

  private void writeInNewFile(List<Line> lines, long missing) throws IOException {
    try {
      write(lines, missing);
    } catch (Damaged again) {
      throw new IOException("a new journal is damaged at once: " + again.getMessage(), again);
    }
  }

  private void write(List<Line> lines, long missing) throws IOException, Damaged {
    try {
      Writing now = writing(lines.get(0));
      if (missing > 0) {
        now.file().write(now.session(), lines.get(0), Row.missing(missing));
      }
      for (Line line : lines) {
        write(now, line);
      }
      now.file().commit();
      nextSeq = now.file().nextSeq();
      remarks.clear();
      rotate(now, lines.get(lines.size() - 1));
    } catch (SQLException e) {
      giveUp();
      if (SqlFaults.isDamage(e)) {
        throw new Damaged(e.getMessage(), e);
      }
      throw SqlFaults.inWords(path, e);
    }
  }

  /** What is written stands, even if the old cannot go: the file is opened anew for what comes. */
  private void rotate(Writing now, Line latest) {
    try {
      now.rotation().turn(latest);
    } catch (SQLException e) {
      LOG.debug("{} could not let the oldest go", name(), e);
      giveUp();
    }
  }

  private static void write(Writing now, Line line) throws SQLException {
    now.file().write(now.session(), line);
    if (line.what() instanceof Kept.Taken taken && taken.item() instanceof Item.Ended) {
      now.file().end(now.session(), line.wallUs());
    }
  }

  private Writing writing(Line first) throws SQLException, IOException, Damaged {
    if (writing.isEmpty()) {
      writing = Optional.of(open(first));
    }
    return writing.get();
  }

  private Writing open(Line first) throws SQLException, IOException, Damaged {
    Database database = JournalDatabase.forWriting(path, !looked);
    looked = true;
    try {
      JournalFile file = new JournalFile(database);
      file.goOnAt(nextSeq);
      int session = begin(file, first);
      return new Writing(file, session, new Rotation(database, limits, session));
    } catch (SQLException e) {
      database.close();
      throw e;
    }
  }

  /** The session goes on in the file that it has begun in, or is begun in a new one. */
  private int begin(JournalFile file, Line first) throws SQLException {
    boolean isStart =
        first.what() instanceof Kept.Taken taken && taken.item() instanceof Item.Started;
    Line start = begun.orElse(first);
    begun = Optional.of(start);
    long beganUs = start.wallUs() - start.boxUs();
    int known =
        (int)
            file.database()
                .number(
                    "SELECT number FROM session WHERE began_us = %d AND ended_us IS NULL"
                        .formatted(beganUs));
    if (known > 0) {
      return known;
    }
    String text =
        String.join("\n", EntryText.lines(new Entry(beganUs, beginning.start(), 0), Telling.BUS));
    int session = file.begin(beganUs, isStart, beginning, text);
    remark(file, session, first);
    return session;
  }

  private void remark(JournalFile file, int session, Line when) throws SQLException {
    for (String changed : file.changedSince(session)) {
      file.write(session, when, Row.remark("changed since the session before: " + changed));
    }
    for (String remark : remarks) {
      file.write(session, when, Row.remark(remark));
    }
  }

  private void giveUp() {
    try {
      close();
    } catch (IOException e) {
      LOG.debug("{} could not be closed", path, e);
    }
  }

  /** Somebody may still read it, or mend it. */
  private void putAside(long wallUs, Damaged damage) throws IOException {
    giveUp();
    looked = true;
    String mark = ".damaged-" + ASIDE.format(Instant.ofEpochSecond(wallUs / US_PER_SECOND));
    Path aside = path.resolveSibling(path.getFileName() + mark);
    for (String part : PARTS) {
      Path from = path.resolveSibling(path.getFileName() + part);
      if (Files.exists(from)) {
        Files.move(from, path.resolveSibling(aside.getFileName() + part));
      }
    }
    String told =
        "was damaged and is kept as %s; a new one has begun".formatted(aside.getFileName());
    LOG.warn("{} {}: {}", name(), told, damage.getMessage());
    remarks.add("the journal before this one " + told);
    trouble.happened(told);
  }

  @Override
  public void close() throws IOException {
    if (writing.isPresent()) {
      JournalFile file = writing.get().file();
      writing = Optional.empty();
      file.close();
    }
  }
}
