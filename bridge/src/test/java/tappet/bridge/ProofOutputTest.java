package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.ProofProcess;

/** What a proof tells passes from process to process in UTF-8; common practice, no source. */
class ProofOutputTest {

  @TempDir private Path folder;

  /** Tells a name, as a proof does. */
  static final class Teller {

    private Teller() {}

    public static void main(String[] arguments) {
      System.out.println("Jürgen");
      System.err.println("Jørgen");
    }
  }

  @Test
  void namesAreReadAsTheyWereToldWhateverTheLanguageOfTheMachine() throws Exception {
    QuickLine.write(folder);
    Edition edition = QuickLine.charted(QuickLine.read(folder)).edition();
    List<String> command = new ArrayList<>(List.of("env", "LC_ALL=C"));
    command.addAll(ProofProcess.command(Teller.class.getName(), edition));

    try (ProofProcess proof = ProofProcess.begin(command)) {
      assertEquals(List.of("Jürgen", "Jørgen"), proof.await().lines());
    }
  }
}
