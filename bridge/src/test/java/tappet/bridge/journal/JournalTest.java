package tappet.bridge.journal;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.JournalCheck;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.record.Item;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.bridge.record.Troubles;
import tappet.interlocking.Answer;
import tappet.interlocking.Output;
import tappet.interlocking.Step;
import tappet.layout.Position;
import tappet.lcc.AliasSeed;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;
import tappet.network.Explanation;
import tappet.source.Problems;

/**
 * The journal in real files, with clocks that are told. What SQLite promises is from its
 * documentation (sqlite.org: wal.html, rescode.html, pragma.html); all else is common practice, no
 * source.
 */
class JournalTest {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int MORE_THAN_IS_READ_AT_ONCE = 5_000;
  private static final long DAY_US = 86_400_000_000L;

  /** 2026-11-26 18:00 UTC. */
  private static final long EVENING_US = 1_795_716_000_000_000L;

  private static final Item.Started BEGIN =
      new Item.Started(
          "0.1",
          "Somewhere",
          NodeId.of("0A.57.00.00.00.01"),
          new AliasSeed(0x123),
          new ClockPlan.None(),
          "check.sum=1\n");
  private static final CanFrame FRAME = CanFrame.of(0x195B4573, 8, 0x0102_0304_0506_0708L);

  @TempDir private Path folder;
  private final AtomicLong wallUs = new AtomicLong(EVENING_US);
  private final Troubles troubles = new Troubles();
  private OptionalInt layoutMinute = OptionalInt.of(374);

  private Path file() {
    return folder.resolve("tappet.journal");
  }

  private Journal open(Limits limits, String rules) {
    return Journal.open(
        file(),
        new Journal.Beginning(
            BEGIN, new OwnerFile("layout.yaml", "layout: 1\n"), new OwnerFile("r.yaml", rules)),
        limits,
        new Journal.Clocks(wallUs::get, () -> layoutMinute),
        troubles,
        Duration.ofMillis(20));
  }

  private Journal open() {
    return open(Limits.USUAL, "rules: 1\n");
  }

  /** An evening in which everything happens once. */
  private void evening(Journal journal) {
    journal.started(5_000_000);
    journal.connectionUp("west", true, 6_000_000);
    journal.frameHeard("west", FRAME, 7_000_000);
    long number =
        journal.told(
            "Olga",
            Optional.of(LocalDateTime.of(2026, 11, 26, 18, 0)),
            "line t2e to t4e",
            8_000_000);
    journal.stepped(
        new Step(
            List.of(new Output.Show("t2e", "approach"), new Output.Throw("t1", Position.REVERSE)),
            List.of(),
            Optional.empty()));
    journal.changed("signal t2e shows approach");
    journal.frameSent(CanFrame.empty(0x19490573), 8_000_000);
    journal.answered(number, new Answer(false, Explanation.fact("=\"no\" way\nat all")));
    journal.written("Olga", "acknowledge 'smoke'", true, true, "done");
    journal.alarmRaised("50 % of the bus");
    journal.alarmCleared("50 % of the bus");
    journal.kept(Optional.of("the disk is full"), 9_000_000);
    journal.inputLost(9_500_000);
    journal.connectionDown("west", "was closed", true, 10_000_000);
    journal.stopped(11_000_000);
    journal.close();
  }

  private String printed(Printing printing) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream stream = new PrintStream(out, true, StandardCharsets.UTF_8);
    JournalPrinter.Paper paper = new JournalPrinter.Paper(stream, stream);
    try (JournalPrinter printer = JournalPrinter.open(file(), ZoneOffset.UTC, paper)) {
      printing.print(printer);
    }
    return out.toString(StandardCharsets.UTF_8);
  }

  private interface Printing {
    void print(JournalPrinter printer) throws IOException;
  }

  private static Query query(Map<String, String> asked) {
    return Query.ofPage(asked, Query.NO_LIMIT).latestFirst(false);
  }

  private List<Found> found(Map<String, String> asked) throws IOException {
    List<Found> found = new ArrayList<>();
    try (JournalReader reader = JournalReader.open(file())) {
      reader.find(query(asked), found::add);
    }
    return found;
  }

  private long sql(String query) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
        Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery(query)) {
      return row.next() ? row.getLong(1) : -1;
    }
  }

  @Test
  void peopleReadEverythingButFramesInOrder() throws IOException {
    evening(open());

    assertEquals(
        """
        2026-11-26 18:00:00.000  06:14  started     Tappet 0.1 on Somewhere
        2026-11-26 18:00:00.000  06:14  up          west
        2026-11-26 18:00:00.000  06:14  told        Olga: line t2e to t4e
        2026-11-26 18:00:00.000  06:14  aspect      t2e is to show approach
        2026-11-26 18:00:00.000  06:14  switch      t1 is sent reverse
        2026-11-26 18:00:00.000  06:14  change      signal t2e shows approach
        2026-11-26 18:00:00.000  06:14  answered    refused: ="no" way
                                                    at all
        2026-11-26 18:00:00.000  06:14  alarm seen  Olga: acknowledge 'smoke'
        2026-11-26 18:00:00.000  06:14  alarm       50 % of the bus
        2026-11-26 18:00:00.000  06:14  alarm gone  50 % of the bus
        2026-11-26 18:00:00.000  06:14  not kept    the disk is full
        2026-11-26 18:00:00.000  06:14  overrun     the daemon was overrun and lost what came in
        2026-11-26 18:00:00.000  06:14  down        west was closed
        2026-11-26 18:00:00.000  06:14  ended       in order
        """,
        printed(printer -> printer.lines(query(Map.of()))));
    assertEquals(List.of(), troubles.told());
  }

  @Test
  void spreadsheetsAndProgramsReadItToo() throws IOException {
    evening(open());

    assertEquals(
        Telling.CSV_HEAD
            + "\r\n9,1,2026-11-26 18:00:00.000,06:14,answered,,,\"'=\"\"no\"\" way\nat all\",no\r\n",
        printed(printer -> printer.csv(query(Map.of("find", "NO\" way")))));
    assertEquals(
        "{\"seq\":3,\"session\":1,\"at\":1795716000000,\"layoutTime\":\"06:14\",\"kind\":\"heard\","
            + "\"about\":\"west\",\"text\":\"195B4573#0102030405060708\","
            + "\"words\":\"west  195B4573#0102030405060708\"}\n",
        printed(printer -> printer.jsonLines(query(Map.of("kind", "frames", "about", "west")))));
  }

  @Test
  void whereTheLayoutHasNoClockNoTimeOfItIsTold() throws IOException {
    layoutMinute = OptionalInt.empty();
    evening(open());
    Query one = query(Map.of("find", "Somewhere"));

    assertEquals(
        "2026-11-26 18:00:00.000  -      started     Tappet 0.1 on Somewhere\n",
        printed(printer -> printer.lines(one)));
    assertEquals(
        Telling.CSV_HEAD
            + "\r\n1,1,2026-11-26 18:00:00.000,,started,,,Tappet 0.1 on Somewhere,\r\n",
        printed(printer -> printer.csv(one)));
    assertFalse(printed(printer -> printer.jsonLines(one)).contains("layoutTime"));
  }

  @Test
  void layoutTimeThatNobodyKnowsIsNoneInSqlEither() throws Exception {
    evening(open());
    long entries = sql("SELECT count(*) FROM entry");
    assertEquals(entries, sql("SELECT count(*) FROM happened WHERE layout_time = '06:14'"));
    layoutMinute = OptionalInt.empty();
    evening(open());

    assertEquals(entries, sql("SELECT count(*) FROM happened WHERE layout_time IS NULL"));
  }

  @Test
  void journalOfAnEarlierTappetGetsTheViewsOfThisOne() throws Exception {
    evening(open());
    try (Connection earlier = DriverManager.getConnection("jdbc:sqlite:" + file());
        Statement statement = earlier.createStatement()) {
      statement.executeUpdate("DROP VIEW happened");
      statement.executeUpdate("CREATE VIEW happened AS SELECT '00:00' AS layout_time FROM entry");
      statement.executeUpdate("DROP VIEW line");
    }
    evening(open());

    assertEquals(
        sql("SELECT count(*) FROM entry"),
        sql("SELECT count(*) FROM happened WHERE layout_time = '06:14'"));
    assertEquals(2, sql("SELECT count(*) FROM line WHERE session = 1 AND kind >= 90"));
    assertEquals(1, sql("PRAGMA user_version"));
    assertEquals(2, sql("SELECT count(*) FROM session WHERE whole"));
  }

  @Test
  void questionsAreNarrowedByTimeKindPersonTextAndPage() throws IOException {
    Journal journal = open();
    evening(journal);
    wallUs.addAndGet(DAY_US);
    evening(open());

    assertEquals(2, found(Map.of("who", "olga", "kind", "orders")).size());
    assertEquals(
        1,
        found(Map.of("find", "50 %", "kind", "alarms", "session", "2")).stream()
            .filter(line -> line.row().kind() == Kind.ALARM)
            .count());
    assertEquals(List.of(), found(Map.of("find", "t_e")), "wildcards of SQL are plain letters");
    String midnight = String.valueOf((EVENING_US + DAY_US / 2) / 1_000);
    assertEquals(1, found(Map.of("kind", "aspects", "since", midnight)).size());
    assertEquals(1, found(Map.of("kind", "aspects", "until", midnight)).size());
    assertEquals(2, found(Map.of("before", "4")).size(), "number 3 is a frame");
    assertThrows(IllegalArgumentException.class, () -> query(Map.of("kind", "trains")));
    assertThrows(IllegalArgumentException.class, () -> query(Map.of("before", "soon")));
  }

  @Test
  void recordingOutOfItHasAllThatARecorderTakes() throws IOException {
    evening(open());
    Path log = folder.resolve("x.log");
    Files.writeString(log, printed(printer -> printer.frames(query(Map.of("session", "1")))));

    Session session = RecordingReader.read(log, new Problems()).orElseThrow().sessions().get(0);

    assertEquals(Optional.of(BEGIN), session.start());
    assertEquals(
        List.of(
            BEGIN,
            new Item.Up("west", true),
            new Item.From("west"),
            new Item.Heard(FRAME),
            new Item.Told(
                1, "Olga", Optional.of(LocalDateTime.of(2026, 11, 26, 18, 0)), "line t2e to t4e"),
            new Item.Sent(CanFrame.empty(0x19490573)),
            new Item.Answered(1, false, "=\"no\" way\nat all\n"),
            new Item.Kept(Optional.of("the disk is full")),
            new Item.InputLost(),
            new Item.Down("west", "was closed", true),
            new Item.Ended()),
        session.entries().stream().map(entry -> entry.item()).toList());
    assertEquals(EVENING_US, session.beganUs());
    assertEquals(EVENING_US + 6_000, session.endedUs(), "by the box's time");
  }

  @Test
  void connectionThatIsOnlyHeardIsOneInARecordingOutOfIt() throws IOException {
    Journal journal = open();
    journal.started(5_000_000);
    journal.overheard("west", 6_000_000);
    journal.stopped(7_000_000);
    journal.close();
    Path log = folder.resolve("x.log");
    Files.writeString(log, printed(printer -> printer.frames(query(Map.of("session", "1")))));

    Session session = RecordingReader.read(log, new Problems()).orElseThrow().sessions().get(0);

    assertEquals(
        List.of(BEGIN, new Item.Overheard("west"), new Item.Ended()),
        session.entries().stream().map(entry -> entry.item()).toList());
    String told = printed(printer -> printer.lines(query(Map.of())));
    assertTrue(told.contains("up          west, only heard"), told);
  }

  @Test
  void numbersGoOnOverRestartsAndFilesAreKeptOnce() throws Exception {
    evening(open());
    evening(open());
    evening(open(Limits.USUAL, "rules: 1\n# changed\n"));

    assertEquals(sql("SELECT count(*) FROM line"), sql("SELECT max(seq) FROM line"));
    assertEquals(3, sql("SELECT count(*) FROM file"));
    assertEquals(1, sql("SELECT count(*) FROM happened WHERE kind = 'remark' AND session = 3"));
    assertEquals(3, sql("SELECT count(*) FROM orders WHERE granted = 0 AND answer LIKE '%way%'"));
    assertEquals(3, sql("SELECT count(*) FROM traffic WHERE connection = 'sent'"));
    assertEquals(2, sql("PRAGMA auto_vacuum"), "2 is incremental");
    Path files = folder.resolve("old");
    String told = printed(printer -> printer.files(query(Map.of("session", "3")), files));
    assertEquals(files.resolve("layout.yaml") + "\n" + files.resolve("r.yaml") + "\n", told);
    assertEquals("rules: 1\n# changed\n", Files.readString(files.resolve("r.yaml")));
    assertEquals(
        "there is no session 9 in it; there are 1 to 3\n",
        printed(printer -> assertFalse(printer.lines(query(Map.of("session", "9"))))));
    assertEquals(3, printed(JournalPrinter::sessions).lines().count());
  }

  /** SQLite says "corrupt" of pages, and "not a database" of a first page (rescode.html). */
  @Test
  void damagedJournalIsPutAsideAndANewOneBegun() throws Exception {
    Files.writeString(file(), "this is no database, but long enough to look like one ".repeat(20));
    evening(open());

    assertEquals(
        List.of(
            "happened: was damaged and is kept as tappet.journal.damaged-20261126-180000; a new one"
                + " has begun"),
        troubles.told());
    assertTrue(Files.exists(folder.resolve("tappet.journal.damaged-20261126-180000")));
    assertEquals(1, found(Map.of("find", "damaged", "kind", "daemon")).size());
    assertEquals(1, sql("SELECT whole FROM session"));
  }

  @Test
  void journalOfAKilledDaemonIsLookedThrough() throws Exception {
    Journal killed = open();
    killed.started(0);
    for (int count = 0; count < 2_000; count++) {
      killed.changed("something long enough to need pages ".repeat(4) + count);
    }
    killed.close();
    byte[] bytes = Files.readAllBytes(file());
    Arrays.fill(bytes, bytes.length / 2, bytes.length / 2 + 4_096, (byte) 0x5A);
    Files.write(file(), bytes);

    evening(open());

    assertEquals(1, troubles.told().size(), troubles.told().toString());
    assertEquals(1, sql("SELECT count(*) FROM session"));
  }

  @Test
  void whereNothingCanBeWrittenItIsToldOnceAndTriedAgain() throws Exception {
    Files.createDirectory(file());
    Journal journal = open();
    journal.started(0);
    await().atMost(PATIENCE).until(() -> journal.lost() == 1);
    journal.changed("lost too");
    await().atMost(PATIENCE).until(() -> journal.lost() == 2);
    Files.delete(file());
    await()
        .atMost(PATIENCE)
        .until(
            () -> {
              journal.changed("kept again");
              return troubles.told().contains("over");
            });
    journal.close();

    assertEquals(
        "cannot be written: %s cannot be opened; what happens now is lost to it, the interlocking goes on"
            .formatted(file()),
        troubles.told().get(0));
    assertEquals(2, troubles.told().size());
    assertEquals(journal.lost(), found(Map.of("kind", "daemon")).get(0).row().number());
    assertEquals(0, sql("SELECT whole FROM session"), "its start is lost");
  }

  /** SQLite answers SQLITE_FULL (rescode.html) as well where a file may have no more pages. */
  @Test
  void fullDiskIsToldInPlainWordsAndWhatStandsIsWhole() throws Exception {
    evening(open());
    long pages = sql("PRAGMA page_count");
    JournalFile file = new JournalFile(JournalDatabase.forWriting(file(), true));
    file.database().run("PRAGMA max_page_count = " + (pages + 1));
    SQLException full =
        assertThrows(
            SQLException.class,
            () -> {
              for (int count = 0; count < 1_000; count++) {
                Line line = new Line(0, EVENING_US, Line.NO_MINUTE, new Kept.Changed("more"));
                file.write(1, line);
              }
            });
    file.close();

    assertEquals("the disk is full", SqlFaults.inWords(file(), full).getMessage());
    assertEquals(0, found(Map.of("find", "more")).size(), "a batch is written whole or not at all");
    evening(open());
    assertEquals(2, sql("SELECT count(*) FROM session WHERE whole"));
  }

  @Test
  void anotherProgramsDatabaseIsLeftAlone() throws Exception {
    assertEquals(-1, sql("SELECT 1 WHERE 0"));
    try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + file());
        Statement statement = other.createStatement()) {
      statement.executeUpdate("CREATE TABLE trains (name TEXT)");
    }
    byte[] before = Files.readAllBytes(file());
    evening(open());

    assertTrue(troubles.told().get(0).contains("is another program's"), troubles.told().toString());
    assertArrayEquals(before, Files.readAllBytes(file()));
    assertThrows(IOException.class, () -> JournalReader.open(file()));
  }

  @Test
  void filesThatHaveTakenOverAreKeptAsLongAsThatIsTold() throws Exception {
    Journal journal = open();
    journal.started(0);
    journal.runsBy(new OwnerFile("layout.yaml", "layout: 1\n"), new OwnerFile("r.yaml", "new\n"));
    journal.close();

    assertEquals(3, sql("SELECT count(*) FROM file"), "the layout is the same");
    String find = "SELECT count(*) FROM happened JOIN file ON happened.text LIKE '%' || substr(";
    assertEquals(1, sql(find + "sha256, 1, 12) || ' run now' WHERE file.text LIKE 'new%'"));
    wallUs.addAndGet(31 * DAY_US);
    session(Rotation.TRUST_AFTER.toNanos());
    assertEquals(2, sql("SELECT count(*) FROM file"), "it went with what was told of it");
  }

  @Test
  void theOldGoesByAgeOldestSessionFirst() throws Exception {
    evening(open());
    wallUs.addAndGet(31 * DAY_US);
    session(Rotation.TRUST_AFTER.toNanos());

    assertEquals(1, sql("SELECT count(*) FROM session"));
    assertEquals(0, sql("SELECT count(*) FROM line WHERE session = 1"));
    assertEquals(1, sql("SELECT count(*) FROM frame"));
    assertEquals(1, sql("SELECT whole FROM session"), "the second is untouched");
  }

  /** A session whose only frame comes so long after its start. */
  private void session(long afterNs) {
    Journal journal = open();
    journal.started(0);
    journal.frameHeard("west", FRAME, afterNs);
    journal.close();
  }

  /** A start with a clock that is far ahead, until somebody sets it right. */
  @Test
  void nothingGoesByAClockThatHasJustBegun() throws Exception {
    evening(open());
    wallUs.addAndGet(1_000 * DAY_US);
    session(Rotation.TRUST_AFTER.toNanos() - 1_000_000);

    assertEquals(2, sql("SELECT count(*) FROM session WHERE whole"));
  }

  @Test
  void jumpsOfTheClockLeaveTheOrderAndLoseNothing() throws Exception {
    evening(open());
    Journal journal = open();
    journal.started(0);
    for (long jumpUs : List.of(1_000 * DAY_US, -2_000 * DAY_US)) {
      long before = sql("SELECT count(*) FROM frame");
      wallUs.addAndGet(jumpUs);
      journal.frameHeard("west", FRAME, Rotation.TRUST_AFTER.toNanos());
      await().atMost(PATIENCE).until(() -> sql("SELECT count(*) FROM frame") > before);
    }
    journal.close();
    evening(open());

    assertEquals(3, sql("SELECT count(*) FROM session WHERE whole"));
    assertEquals(sql("SELECT count(*) FROM line"), sql("SELECT max(seq) FROM line"));
    assertEquals(
        EVENING_US - 1_000 * DAY_US, sql("SELECT max(wall_us) FROM line WHERE session = 3"));
    JournalCheck.check(file());
  }

  /** A machine without a clock of its own may begin in 1970 and learn the time later. */
  @Test
  void jumpOfTheClockLosesNothingOfTheRunningSession() throws Exception {
    wallUs.set(1_000_000);
    Journal journal = open();
    journal.started(0);
    journal.frameHeard("west", FRAME, 1_000);
    wallUs.set(EVENING_US);
    journal.changed("the clock is set");
    journal.close();

    assertEquals(1, sql("SELECT count(*) FROM frame"));
    assertEquals(1, sql("SELECT whole FROM session"));
  }

  @Test
  void theFileGrowsNoLargerAndFramesGoBeforeWords() throws Exception {
    Limits least = new Limits(Duration.ofDays(30), Limits.BYTES_LEAST);
    Journal journal = open(least, "rules: 1\n");
    journal.started(0);
    journal.changed("the first word");
    for (int count = 0; count < 60_000; count++) {
      journal.frameHeard("west", FRAME, count * 1_000L);
      if (count % 8_000 == 7_999) {
        awaitWritten();
      }
    }
    journal.close();

    assertEquals(0, journal.lost());
    assertTrue(Files.size(file()) <= 1_100_000, Files.size(file()) + " bytes");
    assertTrue(sql("SELECT count(*) FROM frame") > 5_000);
    assertEquals(1, found(Map.of("find", "the first word")).size());
    assertEquals(0, sql("SELECT whole FROM session"));
    String frames = printed(printer -> printer.frames(query(Map.of())));
    assertTrue(frames.startsWith("note: the beginning of session 1 is gone"), frames);
    assertFalse(frames.contains(" started "));
  }

  private long seen;

  /** Until the last number stands that has been said so far: the queue is bounded. */
  private void awaitWritten() {
    seen += 8_000;
    await().atMost(PATIENCE).until(() -> sql("SELECT max(seq) FROM frame") >= seen);
  }

  /**
   * The write-ahead log can be cut back only while nobody reads in it (sqlite.org/pragma.html,
   * wal_checkpoint: the first column is 1 where somebody was in the way).
   */
  @Test
  void whoReadsSlowlyDoesNotKeepTheLogFromBeingCutBack() throws Exception {
    try (JournalFile written = numbered(MORE_THAN_IS_READ_AT_ONCE);
        JournalReader reader = JournalReader.open(file())) {
      List<Long> inTheWay = new ArrayList<>();
      reader.find(
          query(Map.of("kind", "changes")),
          found -> {
            if (inTheWay.isEmpty()) {
              inTheWay.add(cutBack());
            }
          });

      assertEquals(List.of(0L), inTheWay);
      assertTrue(written.nextSeq() > MORE_THAN_IS_READ_AT_ONCE);
    }
  }

  private long cutBack() {
    try {
      return sql("PRAGMA wal_checkpoint(TRUNCATE)");
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  /** A journal that is still open, with this many changes whose text is their number from 0. */
  private JournalFile numbered(int count) throws Exception {
    evening(open());
    JournalFile file = new JournalFile(JournalDatabase.forWriting(file(), true));
    for (int number = 0; number < count; number++) {
      Kept change = new Kept.Changed(String.valueOf(number));
      file.write(2, new Line(0, EVENING_US, Line.NO_MINUTE, change));
    }
    file.commit();
    return file;
  }

  @Test
  void whatIsReadPieceByPieceIsWholeInOrderAndWithinItsLimit() throws Exception {
    List<Integer> all = IntStream.range(0, MORE_THAN_IS_READ_AT_ONCE).boxed().toList();
    List<Integer> latestFirst = new ArrayList<>(all);
    Collections.reverse(latestFirst);
    try (JournalFile written = numbered(MORE_THAN_IS_READ_AT_ONCE);
        JournalReader reader = JournalReader.open(file())) {
      assertTrue(written.nextSeq() > MORE_THAN_IS_READ_AT_ONCE);
      for (int limit : List.of(1, 1_999, 2_000, 2_001, 4_000, Query.NO_LIMIT)) {
        int most = Math.min(limit, all.size());
        assertEquals(latestFirst.subList(0, most), numbers(reader, limit, true));
        assertEquals(all.subList(0, most), numbers(reader, limit, false));
      }
    }
  }

  private static List<Integer> numbers(JournalReader reader, int limit, boolean latestFirst)
      throws IOException {
    List<Integer> numbers = new ArrayList<>();
    reader.find(
        Query.ofPage(Map.of("session", "2", "kind", "changes, frames"), limit)
            .latestFirst(latestFirst),
        found -> numbers.add(Integer.valueOf(found.row().text())));
    return numbers;
  }

  @Test
  void liveJournalIsReadWhileItIsWritten() throws Exception {
    Journal journal = open();
    journal.started(0);
    journal.changed("already there");
    await()
        .atMost(PATIENCE)
        .ignoreExceptions()
        .until(() -> found(Map.of("find", "already")).size() == 1);
    try (JournalSearch search = new JournalSearch(file())) {
      assertEquals(200, search.ask(Map.of("find", "already"), 0).get().status());
      assertEquals(400, search.ask(Map.of("as", "pdf"), 0).get().status());
      assertTrue(search.ask(Map.of("as", "csv"), 0).get().text().contains(",already there,\r\n"));
    }
    journal.close();
    try (JournalSearch search = new JournalSearch(folder.resolve("none"))) {
      assertEquals(503, search.ask(Map.of(), 0).get().status());
    }
  }
}
