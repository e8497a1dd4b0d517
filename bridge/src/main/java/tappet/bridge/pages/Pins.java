package tappet.bridge.pages;

import at.favre.lib.crypto.bcrypt.BCrypt;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The PIN of each role, kept as bcrypt hashes in a file that its owner alone can read. The file is
 * made at the first start; the PINs themselves are told once, then.
 */
public final class Pins {

  /** About a tenth of a second on a desk computer: guessing is slow, entering is not. */
  private static final int COST = 10;

  private static final int PIN_BOUND = 1_000_000;
  private static final String OWNER_ONLY = "rw-------";

  private final Map<Role, String> hashes;

  private Pins(Map<Role, String> hashes) {
    this.hashes = hashes;
  }

  /** Where PINs are kept, beside the daemon's state. */
  public static Path beside(Path state) {
    return state.resolveSibling(state.getFileName() + ".pins");
  }

  /**
   * New PINs, and those in words.
   *
   * @param told by role: the PIN to be told, this once; empty where they were read from the file
   */
  public record Opened(Pins pins, Map<Role, String> told) {}

  /**
   * Reads the file, or makes it with new PINs.
   *
   * @throws IOException if it cannot be read or written, or holds something else; the message says
   *     what to do
   */
  public static Opened open(Path file) throws IOException {
    return Files.exists(file) ? new Opened(read(file), Map.of()) : make(file);
  }

  private static Pins read(Path file) throws IOException {
    Map<Role, String> hashes = new EnumMap<>(Role.class);
    for (String line : Files.readAllLines(file, StandardCharsets.UTF_8)) {
      List<String> words = List.of(line.strip().split(" ", 2));
      Optional<Role> role = Role.of(words.get(0));
      if (role.isEmpty() || words.size() != 2) {
        throw new IOException(
            "%s holds something else than PINs; delete it, and the next start makes new ones"
                .formatted(file));
      }
      hashes.put(role.get(), words.get(1));
    }
    return new Pins(hashes);
  }

  private static Opened make(Path file) throws IOException {
    SecureRandom chance = new SecureRandom();
    Map<Role, String> told = new EnumMap<>(Role.class);
    Map<Role, String> hashes = new EnumMap<>(Role.class);
    List<String> lines = new ArrayList<>();
    for (Role role : Role.WITH_PIN) {
      String pin = "%06d".formatted(chance.nextInt(PIN_BOUND));
      String hash = BCrypt.withDefaults().hashToString(COST, pin.toCharArray());
      told.put(role, pin);
      hashes.put(role, hash);
      lines.add(role.word() + " " + hash);
    }
    write(file, lines);
    return new Opened(new Pins(hashes), told);
  }

  /** The file belongs to its owner alone from the beginning, where the file system knows that. */
  private static void write(Path file, List<String> lines) throws IOException {
    boolean posix =
        Files.getFileStore(file.toAbsolutePath().getParent()).supportsFileAttributeView("posix");
    if (posix) {
      Files.createFile(
          file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(OWNER_ONLY)));
    }
    Files.write(file, lines, StandardCharsets.UTF_8);
  }

  /** Whether this is the PIN of the role. It takes its time, whatever the answer is. */
  boolean fits(Role role, String pin) {
    String hash = hashes.get(role);
    return hash != null
        && BCrypt.verifyer()
            .verify(pin.getBytes(StandardCharsets.UTF_8), hash.getBytes(StandardCharsets.UTF_8))
            .verified;
  }
}
