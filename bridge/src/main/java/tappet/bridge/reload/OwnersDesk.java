package tappet.bridge.reload;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Where new files come from, and who follows when they have taken over. */
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

  /** Who follows in the message in which an edition has taken over: on the box's thread. */
  List<Follower> inTheBox();

  /** Who follows after them, when there is time for what the box need not wait for. */
  List<Follower> besideTheBox();
}
