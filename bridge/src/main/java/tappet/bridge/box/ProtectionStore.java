package tappet.bridge.box;

import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import tappet.interlocking.KeptProtections;

/** Where the protection of people is kept for the time after a restart. */
@FunctionalInterface
public interface ProtectionStore {

  /**
   * Keeps all of it, in place of what was kept before; must not block.
   *
   * @return why it could not be kept; empty as soon as it outlasts a power cut. Who completes it
   *     also wakes the box
   */
  CompletableFuture<Optional<String>> keep(KeptProtections all);
}
