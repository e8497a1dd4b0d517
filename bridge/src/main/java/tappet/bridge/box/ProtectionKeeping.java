package tappet.bridge.box;

import java.time.LocalDateTime;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;
import tappet.interlocking.KeptProtections;

/**
 * How the protection of people outlives the daemon.
 *
 * @param kept who was protected when the daemon last ran
 * @param store keeps it for the next time
 * @param wallClock date and time where the railroad stands, for people to read
 */
public record ProtectionKeeping(
    KeptProtections kept, ProtectionStore store, Supplier<Optional<LocalDateTime>> wallClock) {

  /** Nobody was protected, and nothing is kept. */
  static final ProtectionKeeping NONE =
      new ProtectionKeeping(
          KeptProtections.NONE,
          all -> CompletableFuture.completedFuture(Optional.empty()),
          Optional::empty);
}
