package tappet.bridge.reload;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Where new files come from, and who takes over what they say. */
public interface OwnersDesk {

  /**
   * What was read.
   *
   * @param problems what is wrong, a line each
   * @param edition the files, where nothing is
   */
  record Reading(List<String> problems, Optional<Edition> edition) {
    public Reading {
      problems = List.copyOf(problems);
    }
  }

  /** Reads the files as they are now. */
  Reading read();

  /**
   * Begins to prove an edition, as long as the files still say it.
   *
   * @throws IOException if it cannot be begun
   */
  ProofProcess prove(Edition edition) throws IOException;

  /** An edition has taken over, in the message in which it has: on the box's thread. */
  void takenOver(Edition edition);

  /** An edition has taken over, and there is time for what the box need not wait for. */
  void publish(Edition edition);
}
