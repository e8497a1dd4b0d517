package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The command line, against a daemon in a process of its own with the simulator. */
class CommandLineTest {

  private static final String TRAINS =
      "[{simulator: {trains: [{train: Extra 41, on: west-main, heading: east, length: 0.4 m}]}}]";

  @TempDir static Path folder;
  private static JavaProcess daemon;
  private static String desk;

  @BeforeAll
  static void startDaemon() throws IOException {
    QuickLine.write(folder);
    Path settings = QuickLine.settings(folder, TRAINS);
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> ask("why", "west-main").out().contains("is occupied"));
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> ask("why", "t2e").out().contains("route t2e-t4e can be lined"));
  }

  @AfterAll
  static void endDaemon() {
    daemon.close();
  }

  private static Console ask(String command, String question) {
    return Console.run(command, "--desk", desk, question);
  }

  @Test
  void watcherSeesFramesInAndOutAndWhatTheyChange() throws Exception {
    try (JavaProcess watcher = JavaProcess.start(Tappet.class, "watch", "--desk", desk)) {
      await()
          .atMost(JavaProcess.PATIENCE)
          .until(
              () -> {
                ask("tell", "line c4w to m2w");
                ask("tell", "cancel c4w");
                return !watcher.lines().isEmpty();
              });
      int mark = watcher.mark();
      await()
          .atMost(JavaProcess.PATIENCE)
          .until(() -> ask("tell", "throw y2 reverse").status() == 0);
      String time = "^\\d\\d:\\d\\d:\\d\\d\\.\\d{3}  ";
      watcher.awaitLine(mark, time + "out  :X195B4...N0A57000005002201;");
      watcher.awaitLine(mark, time + "in   :X195B4...N0A57000005003201; .* by the simulator");
      watcher.awaitLine(mark, time + "       switch y2 .*reverse");
    }
  }

  @Test
  void sentenceThatIsDoneEndsWithZero() {
    Console done = ask("tell", "line t2e to t4e");
    assertEquals(new Console(0, done.out(), ""), done);
    assertTrue(done.out().contains("route t2e-t4e"), done.out());
    assertEquals(new Console(0, "done\n", ""), ask("tell", "halt 'Extra 41'"));
    assertEquals(0, ask("tell", "cancel t2e").status());
  }

  @Test
  void sentenceThatIsRefusedEndsWithOneAndSaysWhy() {
    Console refused = ask("tell", "line f2e to t2e");
    assertEquals(1, refused.status());
    assertTrue(refused.out().startsWith("refused: route f2e-t2e cannot be lined"), refused.out());
    assertTrue(refused.out().contains("section west-main (West of Tilling) is occupied"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
      lien t2e to t4e     | sentence:1:1: | did you mean 'line'
      line t2e t4e        | sentence:1:10: | to
      line t22e to t4e    | refused: there is no signal 't22e' | did you mean 't2e'?
      run 'Extra 14'      | refused: there is no train 'Extra 14' | did you mean 'Extra 41'?
      """)
  void sentenceThatIsNotUnderstoodEndsWithOneAndASuggestion(
      String sentence, String place, String suggestion) {
    Console answer = ask("tell", sentence);
    assertEquals(1, answer.status());
    assertTrue(answer.out().startsWith(place), answer.out());
    assertTrue(answer.out().contains(suggestion), answer.out());
  }

  @Test
  void whyAnswersForKnownNamesAndSuggestsForOthers() {
    Console known = ask("why", "f2e");
    assertEquals(0, known.status());
    assertTrue(known.out().startsWith("signal f2e (Fallow 2E) shows stop:\n"), known.out());
    assertEquals(
        new Console(1, "there is nothing named 'tilling-mian'; did you mean 'tilling-main'?\n", ""),
        ask("why", "tilling-mian"));
  }

  @Test
  void nobodyAtTheDeskIsOneClearLine() {
    // Port 1 is assigned to a service (tcpmux, RFC 1078) that no test machine runs.
    assertEquals(
        new Console(1, "", "no daemon answers at 127.0.0.1:1; is it running?\n"),
        Console.run("why", "--desk", "127.0.0.1:1", "t2e"));
  }

  @Test
  void deskThatIsNoAddressIsTold() {
    Console answer = Console.run("why", "--desk", "my layout", "t2e");
    assertEquals(2, answer.status());
    assertTrue(
        answer.err().startsWith("'my layout' is no address; write for example --desk 127.0.0.1:"),
        answer.err());
  }

  @ParameterizedTest
  @ValueSource(strings = {"demo", "run", "check", "draft", "tell", "why", "watch"})
  void everyCommandHasHelp(String command) {
    Console help = Console.run(command, "--help");
    assertEquals(0, help.status());
    assertTrue(help.out().startsWith("Usage: tappet " + command), help.out());
    assertTrue(Console.run("--help").out().contains("  " + command), command);
  }

  @Test
  void unknownCommandIsToldWithASuggestion() {
    Console answer = Console.run("whach");
    assertEquals(2, answer.status());
    assertTrue(answer.err().contains("tappet watch"), answer.err());
  }

  @Test
  void goodFilesPassTheCheck() {
    Console answer = check(folder);
    assertEquals(
        new Console(
            0,
            "Ambrose Valley Line: 20 sections, 10 switches, 16 signals, 22 routes, no mistakes\n",
            ""),
        answer);
  }

  @Test
  void checkTellsWhatIsAssumedBecauseNothingDetectsIt(@TempDir Path bare) throws IOException {
    QuickLine.write(bare);
    Path layout = bare.resolve("layout.yaml");
    String text = Files.readString(layout);
    int switches = text.indexOf("switches:");
    String undetected =
        text.substring(switches).replaceFirst(" at: \\{normal.*", " assumed after: 4 s");
    Files.writeString(layout, text.substring(0, switches) + undetected);
    Console answer = check(bare);
    assertEquals(0, answer.status(), answer.out());
    String assumed = "has no detection: it is assumed to lie where it was sent, after 4 s\n";
    assertTrue(answer.out().contains("assumed: switch s1 "), answer.out());
    assertTrue(answer.out().endsWith(assumed), answer.out());
  }

  @Test
  void checkTellsTheMistakesOfBothFilesInOneRun(@TempDir Path wrong) throws IOException {
    QuickLine.write(wrong);
    replace(wrong.resolve("layout.yaml"), "length: 2.2 m", "length: 2.2 feet");
    replace(wrong.resolve("rules.yaml"), "start: 1 s", "start: 1 s: no");
    Console answer = check(wrong);
    assertEquals(1, answer.status());
    assertTrue(
        answer.out().contains("layout.yaml:188:13: '2.2 feet' is not a length"), answer.out());
    assertTrue(answer.out().contains("rules.yaml:13:"), answer.out());
    assertEquals(2, answer.out().lines().count(), answer.out());
  }

  @Test
  void checkJudgesNamesAndTimesInRulesEvenWhereTheLayoutIsWrong(@TempDir Path wrong)
      throws IOException {
    QuickLine.write(wrong);
    replace(wrong.resolve("layout.yaml"), "length: 2.2 m", "length: 2.2 feet");
    replace(wrong.resolve("rules.yaml"), "start: 1 s", "start: soon");
    replace(wrong.resolve("rules.yaml"), "from: f4e, to: t2e", "from: f44e, to: t2e");
    Console answer = check(wrong);
    assertEquals(1, answer.status());
    assertTrue(answer.out().contains("'2.2 feet' is not a length"), answer.out());
    assertTrue(answer.out().contains("'soon' is not a time"), answer.out());
    assertTrue(
        answer.out().contains("this layout has no signal 'f44e'; did you mean 'f4e'?"),
        answer.out());
    assertEquals(3, answer.out().lines().count(), answer.out());
  }

  @Test
  void checkTellsEveryMistakeOfTheRules(@TempDir Path wrong) throws IOException {
    QuickLine.write(wrong);
    replace(wrong.resolve("rules.yaml"), "start: 1 s", "start: soon");
    replace(wrong.resolve("rules.yaml"), "from: f2e, to: t2e", "from: f2e, to: t22e");
    Console answer = check(wrong);
    assertEquals(1, answer.status());
    assertTrue(answer.out().contains("rules.yaml:13:10: 'soon' is not a time"), answer.out());
    assertTrue(answer.out().contains("rules.yaml:17:"), answer.out());
    assertTrue(answer.out().contains("did you mean 't2e'?"), answer.out());
  }

  @Test
  void checkOfAFileThatIsNotThereSaysSo() {
    Console answer = check(folder.resolve("elsewhere"));
    assertEquals(1, answer.status());
    assertTrue(answer.out().contains("layout.yaml:1:1: there is no such file"), answer.out());
    assertTrue(answer.out().contains("rules.yaml:1:1: there is no such file"), answer.out());
  }

  private static Console check(Path of) {
    return Console.run(
        "check", of.resolve("layout.yaml").toString(), of.resolve("rules.yaml").toString());
  }

  private static void replace(Path file, String right, String wrong) throws IOException {
    String text = Files.readString(file);
    assertTrue(text.contains(right), right);
    Files.writeString(file, text.replace(right, wrong));
  }

  @ParameterizedTest
  @ValueSource(strings = {"hub", "desk"})
  void portInUseIsOneClearLine(String which, @TempDir Path other) throws IOException {
    QuickLine.write(other);
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      String address = "127.0.0.1:" + taken.getLocalPort();
      String hub = which.equals("hub") ? address : "127.0.0.1:0";
      String deskAt = which.equals("desk") ? address : "127.0.0.1:0";
      Path settings = QuickLine.settings(other, hub, deskAt, "[]");
      Console answer = Console.run("run", "--config", settings.toString());
      assertEquals(1, answer.status());
      assertEquals(1, answer.err().lines().count(), answer.err());
      assertTrue(answer.err().startsWith("cannot listen on " + address), answer.err());
    }
  }

  @Test
  void wrongSettingsFileIsToldWithPlaceAndSuggestion(@TempDir Path other) throws Exception {
    Path settings = QuickLine.settings(other, "[{seriel: /dev/ttyACM0}]");
    try (JavaProcess tappet =
        JavaProcess.start(Tappet.class, "run", "--config", settings.toString())) {
      assertEquals(1, tappet.awaitEnd());
      List<String> lines = tappet.lines();
      assertTrue(
          lines.contains(
              settings + ":7:16: the connection has no key 'seriel'; did you mean 'serial'?"),
          lines::toString);
    }
  }
}
