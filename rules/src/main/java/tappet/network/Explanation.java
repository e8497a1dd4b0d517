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

  /** A fact that needs no further reason. */
  public static Explanation fact(String clause) {
    return new Explanation(clause, List.of());
  }

  /** The whole of it as lines of text, each reason set in under what it explains. */
  public String text() {
    StringBuilder text = new StringBuilder();
    write(text, "");
    return text.toString();
  }

  private void write(StringBuilder text, String indent) {
    text.append(indent).append(clause).append(because.isEmpty() ? "" : ":").append('\n');
    because.forEach(reason -> reason.write(text, indent + "  "));
  }
}
