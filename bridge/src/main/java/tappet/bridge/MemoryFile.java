package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.UUID;
import tappet.proof.ProofMemory;

/** Where a proof keeps what it has learned. Losing it costs time and nothing else. */
final class MemoryFile {

  private MemoryFile() {}

  /** The file for the rules of this name, in the user's cache folder. */
  static Path of(Path rules) {
    String name = rules.toAbsolutePath().normalize().toString();
    UUID id = UUID.nameUUIDFromBytes(name.getBytes(StandardCharsets.UTF_8));
    return cache().resolve("tappet").resolve(id + ".learned");
  }

  private static Path cache() {
    return Optional.ofNullable(System.getenv("XDG_CACHE_HOME"))
        .filter(path -> !path.isBlank())
        .map(Path::of)
        .orElseGet(() -> Path.of(System.getProperty("user.home"), ".cache"));
  }

  static ProofMemory read(Path file) {
    try {
      return ProofMemory.of(Files.readString(file));
    } catch (IOException e) {
      return ProofMemory.none();
    }
  }

  static void write(ProofMemory memory, Path file) {
    try {
      Files.createDirectories(file.toAbsolutePath().getParent());
      Files.writeString(file, memory.text());
    } catch (IOException e) {
      System.err.printf("%s: what the proof has learned cannot be kept: %s%n", file, e);
    }
  }
}
