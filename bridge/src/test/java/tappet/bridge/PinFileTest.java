package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.pages.Role;

/** How the PINs outlast starts, and what is no file of them. */
class PinFileTest {

  @TempDir Path folder;
  private Path file;

  @BeforeEach
  void placeFile() {
    file = folder.resolve("tappet.state.pins");
  }

  @Test
  void pinsAreToldOnceAndKeptAsHashesForTheOwnerAlone() throws IOException {
    PinFile.Opened made = PinFile.open(file);
    assertEquals(
        List.of(Role.CREW, Role.DISPATCHER, Role.OWNER), List.copyOf(made.told().keySet()));
    String kept = Files.readString(file);
    made.told().values().forEach(pin -> assertFalse(kept.contains(pin)));
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));

    PinFile.Opened again = PinFile.open(file);
    assertEquals(Map.of(), again.told());
    assertEquals(kept, again.pins().text());
  }

  /** What a start has left that was cut off may be anybody's to read. */
  @Test
  void nothingIsWrittenToWhatOthersMayRead() throws IOException {
    Path leftBehind = Files.writeString(folder.resolve("tappet.state.pins.new"), "half");
    Files.setPosixFilePermissions(leftBehind, PosixFilePermissions.fromString("rw-r--r--"));
    PinFile.open(file);
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    assertFalse(Files.exists(leftBehind));
  }

  @Test
  void fileThatIsCutShortAnywhereIsRefused() throws IOException {
    PinFile.open(file);
    String whole = Files.readString(file).stripTrailing();
    for (int length = 0; length < whole.length(); length++) {
      Files.writeString(file, whole.substring(0, length));
      assertRefused();
    }
  }

  @Test
  void fileOfSomethingElseIsRefused() throws IOException {
    Files.writeString(file, "nonsense\n");
    assertRefused();
  }

  private void assertRefused() {
    IOException refused = assertThrows(IOException.class, () -> PinFile.open(file));
    assertEquals(
        file + " holds something else than PINs; delete it, and the next start makes new ones",
        refused.getMessage());
  }
}
