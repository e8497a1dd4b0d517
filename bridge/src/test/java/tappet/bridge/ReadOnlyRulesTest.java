package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.proof.KeptVerdict;

/**
 * New files for a daemon that may not write where they lie, as the packaged service may not:
 * neither a story nor a verdict can be kept. The folder is a real file system in memory; where none
 * may be mounted, which takes root, the tests are left out.
 */
class ReadOnlyRulesTest {

  @TempDir Path folder;
  private Path disk;
  private JavaProcess daemon;
  private String desk;

  @BeforeEach
  void startDaemon() throws Exception {
    disk = Files.createDirectory(folder.resolve("disk"));
    String refused = run("mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", disk.toString());
    assumeTrue(refused.isEmpty(), "no file system can be mounted here: " + refused);
    ProveCommandTest.writeSafe(disk);
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings().toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
  }

  private Path settings() throws IOException {
    Path settings = QuickLine.settings(folder, "[]");
    String onTheDisk = Files.readString(settings).replaceAll("(layout|rules): ", "$1: disk/");
    return Files.writeString(settings, onTheDisk);
  }

  @AfterEach
  void unmount() throws Exception {
    if (daemon != null) {
      daemon.close();
      assertEquals("", run("umount", disk.toString()));
    }
  }

  /** What it says if it fails; empty if it is done. */
  private static String run(String... command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return process.waitFor() == 0 ? "" : said + " (" + String.join(" ", command) + ")";
  }

  private Console reload() throws Exception {
    assertEquals("", run("mount", "-o", "remount,ro", disk.toString()));
    return Console.run("reload", "--desk", desk);
  }

  // 49 CFR 236.18: what is found to be unsafe is not put into service.
  @Test
  void disprovenRulesDoNotTakeOverWhereTheVerdictCannotBeKept() throws Exception {
    ProveCommandTest.writeUnsafe(disk);

    Console told = reload();

    assertEquals(1, told.status(), told::toString);
    assertTrue(told.out().contains("DISPROVEN: signal w2e shows clear only before"), told::out);
    assertTrue(told.out().contains("no scenario of it can be written"), told::out);
    assertTrue(told.out().contains("disproven rules do not take over"), told::out);
    assertTrue(told.out().endsWith("refused; the old files run on\n"), told::out);
  }

  @Test
  void provenRulesTakeOverWhereTheVerdictCannotBeKeptAndThatIsTold() throws Exception {
    Console told = reload();

    assertEquals(0, told.status(), told::toString);
    Path verdict = KeptVerdict.beside(disk.resolve("rules.yaml"));
    assertTrue(told.out().contains(verdict + ": the verdict cannot be kept"), told::out);
    assertTrue(told.out().contains("the rules are proven, and the next start"), told::out);
    assertTrue(told.out().endsWith("the new files have taken over\n"), told::out);
    daemon.awaitLine("New files have taken over: the rules are proven");
  }
}
