package tappet.bridge.reload;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What a proof tells passes from process to process in UTF-8; common practice, no source. */
class ProofOutputTest {

  /** Tells a name, as a proof does. */
  static final class Teller {

    private Teller() {}

    public static void main(String[] arguments) {
      System.out.println("Jürgen");
    }
  }

  @Test
  void namesAreReadAsTheyWereToldWhateverTheLanguageOfTheMachine() throws Exception {
    List<String> command = new ArrayList<>(List.of("env", "LC_ALL=C"));
    command.addAll(
        ProofProcess.command(Teller.class.getName(), Path.of("layout.yaml"), Path.of("r.yaml")));

    try (ProofProcess proof = ProofProcess.begin(command)) {
      assertEquals(List.of("Jürgen"), proof.await().lines());
    }
  }
}
