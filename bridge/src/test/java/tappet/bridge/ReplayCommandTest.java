package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.replay.RecordedRehearsal;

/**
 * A daemon in a process of its own records what comes over a real TCP connection, is killed and
 * comes up again; {@code tappet replay} has another box live through it.
 */
class ReplayCommandTest {

  @TempDir Path folder;
  private String desk;

  @Test
  void whatAKilledDaemonHasRecordedIsReplayed() throws Exception {
    QuickLine.write(folder);
    Path recording = folder.resolve("session.log");
    try (Wire.Network network = new Wire.Network(folder)) {
      JavaProcess daemon = start(network);
      awaitDone("line t2e to t4e");
      awaitDone("grant permit to 'Way Freight' on mill-branch because 'ties'");
      network.field().awaitLine("told t2e approach");
      network.field().type("run 'Extra 41'");
      await().atMost(JavaProcess.PATIENCE).until(() -> why("t2e").contains("shows stop"));
      awaitRecorded(recording, "ties");
      String journal = folder.resolve("tappet.state.journal").toString();
      await()
          .atMost(JavaProcess.PATIENCE)
          .until(() -> Console.run("journal", journal, "--find", "ties").out().contains("ties"));
      daemon.close();

      daemon = start(network);
      await()
          .atMost(JavaProcess.PATIENCE)
          .until(() -> tell("line c2e to mill-end").out().contains("under permit"));
      awaitDone("return permit of 'Way Freight'");
      daemon.terminate();
    }
    assertEquals(0, log2asc(recording));

    Console both = replay(recording);
    assertEquals(0, both.status(), both.out() + both.err());
    assertTrue(both.out().contains("note: it has no end: the daemon was killed"), both.out());
    assertEquals(2, both.out().lines().filter(line -> line.startsWith("no difference: ")).count());
    assertTrue(both.out().contains(" frames and requests a second\n"), both.out());

    assertJournalReplaysToo();
    Path scenario = folder.resolve("scenario.yaml");
    Console told = replay(recording, "--session", "1", "--scenario", scenario.toString());
    assertTrue(told.out().contains("no difference: "), told.out() + told.err());
    assertTrue(Files.readString(scenario).contains("line t2e to t4e"));

    Console whichOne = replay(recording, "--scenario", scenario.toString());
    assertEquals(1, whichOne.status());
    assertEquals(recording + " has sessions 1 to 2; say which with --session\n", whichOne.out());
  }

  /** Also by the files that stand in it, of the session that was killed. */
  private void assertJournalReplaysToo() throws IOException {
    String journal = folder.resolve("tappet.state.journal").toString();
    Path out = folder.resolve("out.log");
    for (String session : List.of("1", "2")) {
      Console frames = Console.run("journal", journal, "--frames", "--session", session);
      Files.writeString(out, frames.out());
      Console both = replay(out);
      assertEquals(0, both.status(), both.out() + both.err());
      assertTrue(both.out().contains("no difference: "), both.out());
    }
    Path files = folder.resolve("files");
    Console.run("journal", journal, "--session", "1", "--files", files.toString());
    assertEquals(
        Files.readString(folder.resolve("rules.yaml")),
        Files.readString(files.resolve("rules.yaml")));
    Console sessions = Console.run("journal", journal, "--sessions");
    assertTrue(sessions.out().contains("without an end"), sessions.out());
    assertEquals(2, sessions.out().lines().count(), sessions.out());
  }

  @Test
  void recordingBecomesAScenarioThatPassesInOneCommand() throws IOException {
    Path recording = folder.resolve("session.log");
    assertTrue(RecordedRehearsal.record("31-permit.yaml", recording).passed());
    Path scenario = folder.resolve("scenario.yaml");
    String layout = RecordedRehearsal.DEMO.resolve("layout.yaml").toString();
    String rules = RecordedRehearsal.DEMO.resolve("rules.yaml").toString();

    Console told =
        Console.run(
            "replay", layout, rules, recording.toString(), "--scenario", scenario.toString());
    assertEquals(0, told.status(), told.out() + told.err());
    assertTrue(told.out().contains("passed  Recorded in session.log"), told.out());

    Console rehearsed =
        Console.run("rehearse", scenario.toString(), "--layout", layout, "--rules", rules);
    assertEquals(0, rehearsed.status(), rehearsed.out() + rehearsed.err());
  }

  @Test
  void mistakesOfAllFilesAreToldAtOnce() throws IOException {
    QuickLine.write(folder);
    Path recording = folder.resolve("session.log");
    Files.writeString(recording, "layout: 1\n");
    Path rules = folder.resolve("rules.yaml");
    Files.writeString(rules, Files.readString(rules).replaceFirst("rules: 1", "rules: 2"));

    Console told = replay(recording);

    assertEquals(1, told.status());
    assertTrue(told.out().contains(rules + ":"), told.out());
    assertTrue(
        told.out().contains(recording + ":1:1: this is no line of a recording; "), told.out());
    assertEquals(
        1, replay(folder.resolve("nothing.log")).status(), "a file that is not there is a mistake");
    assertEquals(2, Console.run("replay").status());
  }

  private JavaProcess start(Wire.Network network) throws IOException {
    var way = (Settings.Tcp) network.way();
    Path settings =
        QuickLine.settings(folder, "[{tcp: '%s:%d'}]".formatted(way.host(), way.port()));
    Files.writeString(settings, Files.readString(settings) + "record: session.log\n");
    JavaProcess daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
    return daemon;
  }

  /** A recording reaches the operating system within a second. */
  private static void awaitRecorded(Path recording, String words) {
    await().atMost(JavaProcess.PATIENCE).until(() -> Files.readString(recording).contains(words));
  }

  private Console replay(Path recording, String... more) {
    String[] arguments = new String[more.length + 4];
    arguments[0] = "replay";
    arguments[1] = folder.resolve("layout.yaml").toString();
    arguments[2] = folder.resolve("rules.yaml").toString();
    arguments[3] = recording.toString();
    System.arraycopy(more, 0, arguments, 4, more.length);
    return Console.run(arguments);
  }

  private void awaitDone(String sentence) {
    await().atMost(JavaProcess.PATIENCE).alias(sentence).until(() -> tell(sentence).status() == 0);
  }

  private Console tell(String sentence) {
    return Console.run("tell", "--desk", desk, sentence);
  }

  private String why(String name) {
    return Console.run("why", "--desk", desk, name).out();
  }

  private int log2asc(Path recording) throws Exception {
    Process tool =
        new ProcessBuilder(
                "log2asc",
                "-I",
                recording.toString(),
                "-O",
                folder.resolve("session.asc").toString(),
                "can0")
            .inheritIO()
            .start();
    assertTrue(tool.waitFor(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS));
    return tool.exitValue();
  }
}
