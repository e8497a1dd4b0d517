package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.proof.KeptVerdict;

/** New files for a daemon in a process of its own, by the command line. */
class ReloadCommandTest {

  @TempDir static Path folder;
  private static JavaProcess daemon;
  private static String desk;
  private static String rules;
  private static String layout;

  @BeforeAll
  static void startDaemon() throws IOException {
    QuickLine.write(folder);
    rules = Files.readString(folder.resolve("rules.yaml"));
    layout = Files.readString(folder.resolve("layout.yaml"));
    Path settings = QuickLine.settings(folder, "[simulator: {trains: []}]");
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> why("t2e").contains("route t2e-t4e can be lined"));
  }

  @AfterAll
  static void endDaemon() {
    daemon.close();
  }

  @BeforeEach
  void filesAsTheyWere() throws IOException {
    write("layout.yaml", layout);
    write("rules.yaml", rules);
  }

  private static void write(String file, String text) throws IOException {
    Files.writeString(folder.resolve(file), text);
  }

  private static Console reload(String... options) {
    List<String> arguments = new java.util.ArrayList<>(List.of("reload", "--desk", desk));
    arguments.addAll(List.of(options));
    return Console.run(arguments.toArray(String[]::new));
  }

  private static String why(String name) {
    return Console.run("why", "--desk", desk, name).out();
  }

  private static int tell(String sentence) {
    return Console.run("tell", "--desk", desk, sentence).status();
  }

  /** The release time of one row is 2 s longer. */
  private static String edited() {
    String edited = rules.replaceFirst("(from: t2e, to: t4e.*release:) 1 s", "$1 3 s");
    assertTrue(!edited.equals(rules));
    return edited.replaceFirst("start: 1 s", "start: 3 s");
  }

  @Test
  void sameFilesMayAlwaysTakeOver() {
    Console told = reload("--try", "--unproven");
    assertEquals(0, told.status(), told::toString);
    assertTrue(told.out().contains("nothing has changed\nthe new files can take over"), told::out);
  }

  @Test
  void mistakesAreToldWithTheirPlacesAndTheOldFilesRunOn() throws IOException {
    write("rules.yaml", rules.replaceFirst("from: t2e", "from: t2x"));
    Console told = reload("--unproven");
    assertEquals(1, told.status(), told::toString);
    assertTrue(told.out().contains("this layout has no signal 't2x'"), told::out);
    assertTrue(told.out().endsWith("refused; the old files run on\n"), told::out);
    assertTrue(why("t2e").contains("route t2e-t4e"), why("t2e"));
  }

  @Test
  void filesTakeOverAsSoonAsNothingThatHasChangedIsInUse() throws Exception {
    assertEquals(0, tell("line t2e to t4e"));
    write("rules.yaml", edited());
    Console told = reload("--unproven");
    assertEquals(3, told.status(), told::toString);
    assertTrue(told.out().contains("route t2e-t4e is locked"), told::out);

    try (JavaProcess waiting =
        JavaProcess.start(Tappet.class, "reload", "--desk", desk, "--wait=50", "--unproven")) {
      waiting.awaitLine("rules.yaml:\\d+:\\d+: route t2e-t4e has changed");
      assertEquals(1, reload("--try").status(), "one at a time");
      assertEquals(0, tell("cancel t2e"));
      waiting.awaitLine("the new files have taken over");
    }
    write("rules.yaml", rules);
    assertEquals(0, reload("--wait=50", "--unproven").status());
  }

  @Test
  void waitingIsCalledOff() throws Exception {
    assertEquals(0, tell("line t2e to t4e"));
    write("rules.yaml", edited());
    try (JavaProcess waiting =
        JavaProcess.start(Tappet.class, "reload", "--desk", desk, "--wait", "--unproven")) {
      waiting.awaitLine("route t2e-t4e has changed");
      assertEquals(0, reload("--cancel").status());
      waiting.awaitLine("called off; the old files run on");
    }
    assertEquals(1, reload("--cancel").status());
    assertEquals(0, tell("cancel t2e"));
  }

  // 49 CFR 236.18: what is found to be unsafe is not put into service.
  @Test
  void disprovenRulesDoNotTakeOver() throws IOException {
    write("rules.yaml", edited());
    Path verdict = KeptVerdict.beside(folder.resolve("rules.yaml"));
    new KeptVerdict(
            KeptVerdict.Answer.DISPROVEN,
            QuickLine.read(folder).files().digest(),
            "any",
            Instant.EPOCH,
            List.of("something dreadful"))
        .write(verdict);
    Console told = reload();
    Files.delete(verdict);
    assertEquals(1, told.status(), told::toString);
    assertTrue(told.out().contains("DISPROVEN: not so: something dreadful"), told::out);
  }

  /** The proof that the daemon has begun, once it is one: at first it is a helper of Java. */
  private Optional<ProcessHandle> proof() {
    return ProcessHandle.of(daemon.id()).stream()
        .flatMap(ProcessHandle::children)
        .filter(child -> child.info().command().orElse("").endsWith("/java"))
        .findAny();
  }

  @Test
  void proofThatIsKilledLeavesTheOldFiles() throws Exception {
    write("rules.yaml", edited());
    try (JavaProcess asking = JavaProcess.start(Tappet.class, "reload", "--desk", desk)) {
      await().atMost(JavaProcess.PATIENCE).until(() -> proof().isPresent());
      proof().ifPresent(ProcessHandle::destroyForcibly);
      asking.awaitLine("the proof was broken off \\(exit status 137\\)");
      asking.awaitLine("refused; the old files run on");
    }
    assertTrue(daemon.isAlive());
  }

  @Test
  void layoutThatIsSimulatedNeedsAStart() throws IOException {
    write("layout.yaml", layout.replaceFirst("name: Ambrose Valley Line", "name: Another Line"));
    Console told = reload("--unproven");
    assertEquals(1, told.status(), told::toString);
    assertTrue(told.out().contains("restart the daemon"), told::out);
  }
}
