package tappet.bridge;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A few kills; {@code bridge/bin/measure kills 1000} for the full number. */
class KillsTest {

  @TempDir Path folder;

  // Interlocking sheet, F.1 S16 and S19; 49 CFR 236.5.
  @Test
  void whatWasConfirmedIsThereAfterEachKillAndNoSignalIsBetterThanKnown() throws IOException {
    Kills.run(Integer.getInteger("kills", 2), 1_836, folder, KillsTest::fromClasses, System.out);
  }

  private static JavaProcess fromClasses(String... arguments) throws IOException {
    return JavaProcess.start(Tappet.class, arguments);
  }
}
