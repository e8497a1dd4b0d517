package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Predicate;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * All that the daemon keeps lies on a small file system that fills up, or may only be read. It is a
 * real one, in memory; where none may be mounted, which takes root, the tests are left out.
 */
class FullDiskTest {

  private static final String PERMIT = "permit of Way Freight on mill-branch";
  private static final String BLOCKING = "blocking of signal c8w for Way";
  private static final String BLOCK = "block signal c8w for 'Way'";

  @TempDir Path folder;
  private Path disk;
  private LiveLine line;

  @BeforeEach
  void mount() throws Exception {
    disk = Files.createDirectory(folder.resolve("disk"));
    String refused = run("mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", disk.toString());
    assumeTrue(refused.isEmpty(), "no file system can be mounted here: " + refused);
    line = LiveLine.start(folder, disk.resolve("tappet.state"), "", List.of());
    line.awaitDone("grant permit to 'Way Freight' on mill-branch");
  }

  @AfterEach
  void unmount() throws Exception {
    if (line != null) {
      line.close();
      assertEquals("", run("umount", disk.toString()));
    }
  }

  /** What it says if it fails; empty if it is done. */
  private static String run(String... command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return process.waitFor() == 0 ? "" : said + " (" + String.join(" ", command) + ")";
  }

  @Test
  void fullDiskIsToldKeepsNobodyUnprotectedAndHealsWhenThereIsRoom() throws Exception {
    fill(disk.resolve("filler"));
    whatCannotBeKeptIsRefusedAndTheRestGoesOn("No space left on device", "the disk is full");

    Files.delete(disk.resolve("filler"));
    allIsWellAndKept();
  }

  @Test
  void diskThatMayOnlyBeReadIsToldAndHealsWhenItCanBeWritten() throws Exception {
    line.stopDaemon();
    assertEquals("", run("mount", "-o", "remount,ro", disk.toString()));
    line.startDaemon();
    whatCannotBeKeptIsRefusedAndTheRestGoesOn("Read-only file system", "cannot be opened");

    assertEquals("", run("mount", "-o", "remount,rw", disk.toString()));
    allIsWellAndKept();
  }

  private void whatCannotBeKeptIsRefusedAndTheRestGoesOn(String why, String ofJournal) {
    line.awaitDone("line t2e to t4e");
    line.awaitProceeds("t2e");
    String refused = line.tell(BLOCK).toString();
    assertTrue(refused.contains("it cannot be kept over a restart"), refused);
    assertTrue(refused.contains("so nobody is protected by it"), refused);
    assertTrue(refused.contains(why), refused);
    String named = line.tell("name 'Extra 41' on west-main").toString();
    assertTrue(named.contains("the next start will not know it"), named);
    String standing = line.why("protections");
    assertTrue(standing.contains(PERMIT) && !standing.contains(BLOCKING), standing);
    line.awaitAlarms(
        "it is told",
        has("the protection of people cannot be kept over a restart: ").and(has(ofJournal)));
  }

  private void allIsWellAndKept() throws IOException {
    line.awaitDone(BLOCK);
    line.awaitAlarms("all is well", has("cannot be").negate());
    assertTrue(line.proceeding().contains("t2e"), "no signal has fallen for it");
    line.stopDaemon();
    JournalCheck.check(disk.resolve("tappet.state.journal"));
    line.startDaemon();
    String standing = line.why("protections");
    assertTrue(standing.contains(PERMIT) && standing.contains(BLOCKING), standing);
  }

  private static Predicate<List<String>> has(String words) {
    return alarms -> alarms.stream().anyMatch(alarm -> alarm.contains(words));
  }

  /** Writes until there is not a byte of room left. */
  private static void fill(Path file) throws IOException {
    byte[] piece = new byte[256];
    try (OutputStream out = Files.newOutputStream(file)) {
      while (true) {
        out.write(piece);
      }
    } catch (IOException e) {
      assertTrue(e.getMessage().contains("No space left"), e.getMessage());
    }
  }
}
