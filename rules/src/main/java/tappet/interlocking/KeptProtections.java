package tappet.interlocking;

import java.util.List;

/**
 * What must be known of the protection of people after a restart.
 *
 * @param protections all that stand, as far as is known
 * @param doubts why there may be others, each as a clause; empty where there are none
 */
public record KeptProtections(List<Protection> protections, List<String> doubts) {

  /** Nobody is protected, and that is known. */
  public static final KeptProtections NONE = new KeptProtections(List.of(), List.of());

  public KeptProtections {
    protections = List.copyOf(protections);
    doubts = List.copyOf(doubts);
  }
}
