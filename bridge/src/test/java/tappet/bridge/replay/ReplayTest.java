package tappet.bridge.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.record.Recording;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.lcc.NodeId;
import tappet.source.Problems;

/** What was recorded is lived through again. Common practice, no source. */
class ReplayTest {

  private static final Duration TOLERANCE = Duration.ofMillis(100);
  private static final String MEET = "02-meet-at-tilling.yaml";

  /** Nobody asks for anything in it. */
  private static final String NOBODY_ASKS = "24-grade-crossing-unknown.yaml";

  @TempDir Path folder;

  static List<String> scenarios() throws IOException {
    return RecordedRehearsal.all();
  }

  @ParameterizedTest
  @MethodSource("scenarios")
  void everyScenarioOfTheDemoIsReplayedWithoutADifference(String scenario) throws Exception {
    Recording recording = record(scenario);
    assertEquals(1, recording.sessions().size());
    assertEquals(List.of(), recording.remarks());

    Outcome outcome = replay(recording.sessions().get(0), rules());

    assertEquals("", told(outcome));
    assertTrue(outcome.same());
    assertEquals(0, outcome.furthestUs(), "virtual time has no jitter");
    assertTrue(outcome.events() >= 20 && outcome.inputs() >= 50, outcome::toString);
  }

  @Test
  void twoRunsOfOneFileAreTwoSessionsAndEachIsReplayedByItself() throws Exception {
    record(MEET);
    Recording recording = record("31-permit.yaml");

    assertEquals(2, recording.sessions().size());
    for (Session session : recording.sessions()) {
      assertEquals("", told(replay(session, rules())));
    }
  }

  @Test
  void changedRuleIsSeenAtItsTimeInTheOwnersWordsAndWithItsReason() throws Exception {
    Session session = record(MEET).sessions().get(0);
    String changed =
        rules()
            .replaceFirst(
                "beyond diverging-approach: approach-diverging",
                "beyond diverging-approach: approach");

    Outcome outcome = replay(session, changed);

    assertFalse(outcome.same());
    Difference first = outcome.differences().get(0);
    assertEquals("signal Fallow 2E (f2e)", first.about(), told(outcome));
    assertEquals("approach-diverging", first.then());
    assertEquals("nothing", first.now());
    String seconds = "after %.3f s".formatted((first.timeUs() - outcome.beganUs()) / 1e6);
    assertTrue(
        told(outcome)
            .contains(
                """
                session.log:%d:1: %s
                  signal Fallow 2E (f2e)
                    then: approach-diverging
                    now:  nothing
                    why:  signal f2e (Fallow 2E) shows approach:
                """
                    .formatted(first.line(), seconds)),
        told(outcome));
    assertTrue(told(outcome).contains(" DIFFERENCES: "), told(outcome));
    assertTrue(
        Files.readAllLines(file()).get(first.line() - 1).endsWith(" T"),
        "the line is that of the event then");
  }

  @Test
  void withdrawnRouteChangesTheAnswer() throws Exception {
    Session session = record(MEET).sessions().get(0);
    String changed = rules().replaceFirst("(?m)^ +- \\{from: t2e, to: t6e,.*\n", "");

    Outcome outcome = replay(session, changed);

    Difference answer =
        outcome.differences().stream()
            .filter(each -> each.about().equals("the answer to 'line t2e to t6e'"))
            .findFirst()
            .orElseThrow(() -> new AssertionError(told(outcome)));
    assertTrue(answer.then().startsWith("done: route t2e-t6e is lined"), answer.then());
    assertTrue(answer.now().startsWith("refused: "), answer.now());
  }

  @Test
  void timesMayDifferByTheToleranceAndNoMore() throws Exception {
    Session session = record(MEET).sessions().get(0);
    String later = rules().replaceFirst("loss of shunt: 2 s", "loss of shunt: 2050 ms");

    Outcome within = replay(session, later, TOLERANCE);
    Outcome beyond = replay(session, later, Duration.ofMillis(20));

    assertEquals("", told(within));
    assertTrue(within.furthestUs() >= 50_000, within::toString);
    assertFalse(beyond.same());
    Difference first = beyond.differences().get(0);
    assertEquals("nothing", first.now(), told(beyond));
  }

  @Test
  void killedDaemonsSessionIsReplayedAsFarAsItGoes() throws Exception {
    Session whole = record(MEET).sessions().get(0);
    Session half =
        new Session(
            whole.start(),
            whole.entries().subList(0, whole.entries().size() / 2),
            whole.firstLine());

    Outcome outcome = replay(half, rules());

    assertEquals("", told(outcome));
    assertTrue(outcome.same());
    assertTrue(outcome.remarks().get(0).startsWith("it has no end:"), outcome.remarks()::toString);
  }

  @ParameterizedTest
  @ValueSource(strings = {NOBODY_ASKS, "30-local-switch.yaml"})
  void logOfAnotherToolIsReplayedWhereNobodyAsksForAnything(String scenario) throws Exception {
    Session session = rewritten(scenario, ReplayTest::asOfAnotherTool);
    assertEquals(Optional.empty(), session.start());

    Outcome outcome = replay(session, rules());

    assertEquals("", told(outcome));
    assertTrue(outcome.compared() && outcome.events() > 0, outcome::toString);
    assertTrue(
        outcome.remarks().get(0).startsWith("it does not tell of the start of the daemon"),
        outcome.remarks()::toString);
  }

  @Test
  void logThatBeginsInTheMiddleIsNotPassedOffAsTheSame() throws Exception {
    Session session =
        rewritten(
            NOBODY_ASKS,
            lines -> {
              List<String> frames = asOfAnotherTool(lines);
              return frames.subList(frames.size() - 40, frames.size());
            });

    Outcome outcome = replay(session, rules());

    assertFalse(outcome.compared() || outcome.same());
    assertTrue(
        outcome.remarks().stream().anyMatch(remark -> remark.startsWith("nothing was compared")),
        outcome.remarks()::toString);
    assertTrue(told(outcome, outcome.differences()).contains("NOT COMPARED"));
  }

  @Test
  void ofTwoNodesThatTellDevicesWhatToDoTheOwnerSaysWhichIsTheDaemon() throws Exception {
    UnaryOperator<List<String>> withAStranger =
        lines -> {
          List<String> all = new ArrayList<>(asOfAnotherTool(lines));
          String last = all.get(all.size() - 1);
          String order =
              lines.stream()
                  .filter(line -> line.matches(".* 195B4[0-9A-F]{3}#[0-9A-F]{16} T"))
                  .findFirst()
                  .orElseThrow();
          all.add(last.substring(0, 25) + "195B4123" + order.substring(33, 50));
          return all;
        };
    Session session = rewritten(NOBODY_ASKS, withAStranger);
    String stranger = "a node of alias 123";

    var e = assertThrows(Replay.Impossible.class, () -> replay(session, rules()));
    boolean isOrder = e.getMessage().contains(stranger);
    assertTrue(
        isOrder && e.getMessage().endsWith("say with --node which node the daemon was"),
        e.getMessage());

    Outcome outcome =
        Replay.of(
            new Replay.Order(
                session,
                RecordedRehearsal.layout(),
                RecordedRehearsal.table(rules()),
                TOLERANCE,
                Optional.of(NodeId.of("0A.57.00.00.00.01"))));
    assertEquals("", told(outcome));
  }

  @Test
  void recordingOfAnotherLayoutIsRefused() throws Exception {
    Session session =
        rewritten(
            MEET,
            lines ->
                lines.stream().map(line -> line.replace("Ambrose Valley", "Elsewhere")).toList());
    var e = assertThrows(Replay.Impossible.class, () -> replay(session, rules()));
    assertEquals(
        "this was recorded on 'Elsewhere Line', and the layout is 'Ambrose Valley Line'",
        e.getMessage());
    assertEquals(1, e.line());
  }

  @Test
  void changedSentenceIsRefusedWithItsLine() throws Exception {
    Session session =
        rewritten(
            MEET,
            lines -> lines.stream().map(line -> line.replace("line t2e", "lien t2e")).toList());
    var e = assertThrows(Replay.Impossible.class, () -> replay(session, rules()));
    assertTrue(e.getMessage().contains("'lien t2e to t6e' is not understood"), e.getMessage());
    assertTrue(Files.readAllLines(file()).get(e.line() - 1).contains("lien t2e"), e.getMessage());
  }

  /** As tools write it that know no notes, nor who sent what. */
  private static List<String> asOfAnotherTool(List<String> lines) {
    return lines.stream()
        .filter(line -> !line.startsWith("#"))
        .map(line -> line.replace(" T", ""))
        .toList();
  }

  private Session rewritten(String scenario, UnaryOperator<List<String>> change) throws Exception {
    record(scenario);
    Files.write(file(), change.apply(Files.readAllLines(file())));
    return read().sessions().get(0);
  }

  private Path file() {
    return folder.resolve("session.log");
  }

  private Recording record(String scenario) throws IOException {
    assertTrue(RecordedRehearsal.record(scenario, file()).passed());
    return read();
  }

  private Recording read() {
    Problems problems = new Problems();
    return RecordingReader.read(file(), problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }

  private static String told(Outcome outcome) {
    return outcome.differences().isEmpty() ? "" : told(outcome, outcome.differences());
  }

  private static String told(Outcome outcome, List<Difference> shown) {
    return ReplayReport.text("session.log", outcome, shown);
  }

  private static String rules() throws IOException {
    return Files.readString(RecordedRehearsal.DEMO.resolve("rules.yaml"));
  }

  private static Outcome replay(Session session, String rules) throws Exception {
    return replay(session, rules, TOLERANCE);
  }

  private static Outcome replay(Session session, String rules, Duration tolerance)
      throws Exception {
    return Replay.of(
        new Replay.Order(
            session,
            RecordedRehearsal.layout(),
            RecordedRehearsal.table(rules),
            tolerance,
            Optional.empty()));
  }
}
