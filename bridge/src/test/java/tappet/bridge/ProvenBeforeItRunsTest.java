package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.KeptVerdict.Answer;
import tappet.bridge.proof.Standing;

/** 49 CFR 236.18: what runs is what was judged, and every screen tells where it is not. */
class ProvenBeforeItRunsTest {

  @TempDir Path folder;

  private Standing standing() {
    return QuickLine.read(folder).standing();
  }

  @Test
  void rulesThatWereNeverProvenAreNotProven() throws IOException {
    ProveCommandTest.writeSafe(folder);
    assertEquals(Answer.NOT_PROVEN, standing().answer());
    assertTrue(standing().words().contains("run 'tappet prove"), standing().words());
  }

  @Test
  void verdictCountsUntilAFileIsChanged() throws IOException {
    ProveCommandTest.writeSafe(folder);
    assertEquals(0, ProveCommandTest.prove(folder).status());
    assertEquals(Answer.PROVEN, standing().answer(), standing().words());
    Files.writeString(folder.resolve("layout.yaml"), "# new\n", StandardOpenOption.APPEND);
    assertEquals(Answer.NOT_PROVEN, standing().answer());
  }

  @Test
  void verdictOnAnotherNetworkOfTheSameFilesDoesNotCount() throws IOException {
    ProveCommandTest.writeSafe(folder);
    assertEquals(0, ProveCommandTest.prove(folder).status());
    Path file = folder.resolve("rules.proof");
    String kept = Files.readString(file);
    Files.writeString(file, kept.replaceFirst("network: [0-9a-f]", "network: x"));
    assertEquals(Answer.NOT_PROVEN, standing().answer());
    Files.writeString(file, kept.substring(0, kept.length() / 2));
    assertEquals(Answer.NOT_PROVEN, standing().answer(), "half a file says nothing");
  }

  @Test
  void verdictThatIsTheSameIsNotWrittenAgain() throws IOException {
    ProveCommandTest.writeUnsafe(folder);
    assertEquals(1, ProveCommandTest.prove(folder).status());
    Path file = folder.resolve("rules.proof");
    String old = Files.readString(file).replaceFirst("on: \\S+", "on: 2001-01-01T00:00:00Z");
    Files.writeString(file, old);
    assertEquals(1, ProveCommandTest.prove(folder).status());
    assertEquals(old, Files.readString(file));
    assertTrue(KeptVerdict.read(file).orElseThrow().open().get(0).contains("shows clear only"));
  }

  @Test
  void disprovenRulesRunOnlyWhereTheOwnerInsistsAndEveryScreenTells() throws IOException {
    ProveCommandTest.writeUnsafe(folder);
    assertEquals(1, ProveCommandTest.prove(folder).status());
    String settings = QuickLine.settings(folder, "[]").toString();

    Console refused = Console.run("run", "--config", settings);
    assertEquals(1, refused.status());
    assertTrue(
        refused.err().contains("the rules are DISPROVEN: not so: signal w2e"), refused.err());
    assertTrue(refused.err().contains("--even-if-disproven"), refused.err());

    try (JavaProcess daemon =
        JavaProcess.start(Tappet.class, "run", "--config", settings, "--even-if-disproven")) {
      String desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
      try (JavaProcess screen = JavaProcess.start(Tappet.class, "watch", "--desk", desk)) {
        screen.awaitLine("ALARM +the rules are DISPROVEN: not so: signal w2e");
      }
    }
  }
}
