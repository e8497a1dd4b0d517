package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import tappet.bridge.pages.Pins;
import tappet.bridge.pages.Role;

/**
 * Keeps the PINs of the pages in a file that its owner alone can read. It is made at the first
 * start; the PINs themselves are told once, then.
 */
final class PinFile {

  private PinFile() {}

  /** Where PINs are kept, beside the daemon's state. */
  static Path beside(Path state) {
    return state.resolveSibling(state.getFileName() + ".pins");
  }

  /**
   * New PINs, or those that were kept.
   *
   * @param told by role: the PIN to be told, this once; empty where they were read from the file
   */
  record Opened(Pins pins, Map<Role, String> told) {}

  /**
   * Reads the file, or makes it with new PINs.
   *
   * @throws IOException if it cannot be read or written, or holds something else; the message says
   *     what to do
   */
  static Opened open(Path file) throws IOException {
    return Files.exists(file) ? new Opened(read(file), Map.of()) : make(file);
  }

  private static Pins read(Path file) throws IOException {
    return Pins.read(new String(Files.readAllBytes(file), StandardCharsets.UTF_8))
        .orElseThrow(
            () ->
                new IOException(
                    "%s holds something else than PINs; delete it, and the next start makes new ones"
                        .formatted(file)));
  }

  private static Opened make(Path file) throws IOException {
    Pins.Made made = Pins.make();
    DurableFile.writeForOwnerAlone(file, made.pins().text().getBytes(StandardCharsets.UTF_8));
    return new Opened(made.pins(), made.told());
  }
}
