package tappet.bridge.pages;

import at.favre.lib.crypto.bcrypt.BCrypt;
import at.favre.lib.crypto.bcrypt.LongPasswordStrategies;
import at.favre.lib.crypto.bcrypt.LongPasswordStrategy;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** The PIN of each role, kept as bcrypt hashes. */
public final class Pins {

  /** About a tenth of a second on a desk computer: guessing is slow, entering is not. */
  private static final int COST = 10;

  private static final int PIN_BOUND = 1_000_000;

  /** A version, the cost, salt and hash: one that is cut short fits no PIN. */
  private static final Pattern HASH = Pattern.compile("\\$2a\\$\\d\\d\\$[./A-Za-z0-9]{53}");

  /** One that is longer than bcrypt reads is compared as far: no PIN of ours is as long. */
  private static final LongPasswordStrategy LONG_ONES =
      LongPasswordStrategies.truncate(BCrypt.Version.VERSION_2A);

  private final Map<Role, String> hashes;

  private Pins(Map<Role, String> hashes) {
    this.hashes = hashes;
  }

  /**
   * New PINs, and those in words.
   *
   * @param told by role: the PIN to be told, this once
   */
  public record Made(Pins pins, Map<Role, String> told) {}

  /** New PINs for all roles that have one. */
  public static Made make() {
    SecureRandom chance = new SecureRandom();
    Map<Role, String> told = new EnumMap<>(Role.class);
    Map<Role, String> hashes = new EnumMap<>(Role.class);
    for (Role role : Role.WITH_PIN) {
      String pin = "%06d".formatted(chance.nextInt(PIN_BOUND));
      told.put(role, pin);
      hashes.put(role, BCrypt.withDefaults().hashToString(COST, pin.toCharArray()));
    }
    return new Made(new Pins(hashes), told);
  }

  /** Reads what {@link #text} has written; empty where it is anything else, or not all of it. */
  public static Optional<Pins> read(String text) {
    Map<Role, String> hashes = new EnumMap<>(Role.class);
    for (String line : text.lines().toList()) {
      List<String> words = List.of(line.strip().split(" ", 2));
      Optional<Role> role = Role.of(words.get(0));
      if (role.isEmpty() || words.size() != 2 || !HASH.matcher(words.get(1)).matches()) {
        return Optional.empty();
      }
      hashes.put(role.get(), words.get(1));
    }
    return Optional.of(new Pins(hashes)).filter(pins -> hashes.keySet().containsAll(Role.WITH_PIN));
  }

  /** A line for each role, with the hash of its PIN. */
  public String text() {
    return hashes.entrySet().stream()
        .map(entry -> entry.getKey().word() + " " + entry.getValue() + "\n")
        .collect(Collectors.joining());
  }

  /** Whether this is the PIN of the role. It takes its time, whatever the answer is. */
  boolean fits(Role role, String pin) {
    String hash = hashes.get(role);
    return hash != null
        && BCrypt.verifyer(BCrypt.Version.VERSION_2A, LONG_ONES)
            .verify(pin.getBytes(StandardCharsets.UTF_8), hash.getBytes(StandardCharsets.UTF_8))
            .verified;
  }
}
