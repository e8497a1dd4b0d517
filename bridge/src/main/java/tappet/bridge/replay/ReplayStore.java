package tappet.bridge.replay;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import tappet.bridge.box.ProtectionStore;
import tappet.interlocking.KeptProtections;

/** A store that is done when the recorded one was. */
final class ReplayStore implements ProtectionStore {

  private final Deque<CompletableFuture<Optional<String>>> atWork = new ArrayDeque<>();

  @Override
  public CompletableFuture<Optional<String>> keep(KeptProtections all) {
    CompletableFuture<Optional<String>> result = new CompletableFuture<>();
    atWork.add(result);
    return result;
  }

  /** The recorded store was done with what it was given last. */
  void done(Optional<String> whyNot) {
    if (!atWork.isEmpty()) {
      atWork.remove().complete(whyNot);
    }
  }
}
