package tappet.network;

import java.util.List;

/**
 * Why something is as it is.
 *
 * @param clause what is so, in the owner's words
 * @param because what it follows from, nearest first; empty where it is a fact of its own
 */
public record Explanation(String clause, List<Explanation> because) {
  public Explanation {
    because = List.copyOf(because);
  }
}
