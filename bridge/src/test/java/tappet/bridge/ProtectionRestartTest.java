package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.box.ProtectionText;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Moment;
import tappet.interlocking.Protection;
import tappet.sentence.Protected;

/** The daemon is killed (SIGKILL) while people are at work on the railroad. */
class ProtectionRestartTest {

  private static final String PERMIT = "section mill-branch (Mill branch) is under permit of Way";

  @TempDir Path folder;
  private Wire.Network network;
  private JavaProcess daemon;
  private String desk;

  @BeforeEach
  void start() throws IOException {
    QuickLine.write(folder);
    network = new Wire.Network(folder);
  }

  @AfterEach
  void end() {
    if (daemon != null) {
      daemon.close();
    }
    if (network != null) {
      network.close();
    }
  }

  // Interlocking sheet, F.1 S16 and S19.
  @Test
  void permitThatWasConfirmedStandsAfterAKill() throws IOException {
    startDaemon();
    awaitPermit();
    awaitDone("name 'Extra 41' on west-main");
    awaitDone("ask for 'line t2e to t4e' by 'Extra 41'");
    daemon.close();
    String chart = Files.readString(ChartFile.beside(folder.resolve("tappet.state")));
    assertTrue(chart.contains("train.0.name=Extra 41"), chart);
    assertTrue(chart.contains("asked.0.sentence=line t2e to t4e"), chart);
    startDaemon();

    awaitDone("drop name 'Extra 41'");
    assertTrue(why("mill-branch").contains(PERMIT), why("mill-branch"));
    assertTrue(why("mill-branch").contains("(tie renewal)"), why("mill-branch"));
    awaitDone("line t2e to t4e");
    var refused = tell("line c2e to mill-end");
    assertEquals(1, refused.status());
    assertTrue((refused.out() + refused.err()).contains(PERMIT), refused::toString);

    awaitDone("return permit of 'Way Freight'");
    assertEquals(List.of(), kept().protections());
    awaitDone("line c2e to mill-end");
  }

  // 49 CFR 236.5: what is not known is not safe.
  @Test
  void damagedFileLocksTheRailroadUntilAPersonHasMadeSure() throws IOException {
    Moment since = Moment.UNKNOWN;
    Protection permit =
        new Protection(
            Protected.PERMIT, List.of("mill-branch"), "Way Freight", since, Optional.empty());
    String text = ProtectionText.of(new KeptProtections(List.of(permit), List.of()));
    Files.writeString(file(), text.replace("Way Freight", "Nobody"));
    startDaemon();

    String doubt = "who was protected before the start is not known";
    await().atMost(JavaProcess.PATIENCE).until(() -> !why("t2e-t4e").contains("has not reported"));
    assertTrue(why("t2e-t4e").contains(doubt), why("t2e-t4e"));
    assertFalse(tell("line t2e to t4e").status() == 0);
    awaitDone("confirm protections");
    awaitDone("line t2e to t4e");
    assertEquals(KeptProtections.NONE, kept());
  }

  private Path file() {
    return ProtectionFile.beside(folder.resolve("tappet.state"));
  }

  /** What the next start would know. */
  private KeptProtections kept() throws IOException {
    return ProtectionText.read(Files.readString(file()));
  }

  private void startDaemon() throws IOException {
    var way = (Settings.Tcp) network.way();
    String connections = "[{tcp: '%s:%d'}]".formatted(way.host(), way.port());
    Path settings = QuickLine.settings(folder, connections);
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
  }

  private Console tell(String sentence) {
    return Console.run("tell", "--desk", desk, sentence);
  }

  /** Once it is kept, it is confirmed, or at least named in the answer to whoever asks again. */
  private void awaitPermit() {
    String grant = "grant permit to 'Way Freight' on mill-branch because 'tie renewal'";
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(
            () -> {
              var told = tell(grant);
              return told.status() == 0 || told.toString().contains("stands; return it");
            });
  }

  private void awaitDone(String sentence) {
    await().atMost(JavaProcess.PATIENCE).alias(sentence).until(() -> tell(sentence).status() == 0);
  }

  private String why(String name) {
    return Console.run("why", "--desk", desk, name).out();
  }
}
