package tappet.network;

/**
 * What a variable says to people.
 *
 * @param whenTrue a clause such as "section West of Tilling is clear"
 * @param whenFalse the opposite
 * @param depth how an explanation treats it
 */
public record Words(String whenTrue, String whenFalse, Depth depth) {

  /** How far an explanation goes. */
  public enum Depth {
    /** An owner's fact: the explanation ends here. */
    FACT,
    /**
     * A fact that people look to last, such as what somebody asked for or what a train did before:
     * an explanation ends here too, but comes here only where no alternative leads to nearer facts.
     */
    LAST,
    /** Said, and then explained by what it follows from. */
    BECAUSE,
    /** Not said itself: only what it follows from. */
    THROUGH
  }

  /** A fact that needs no further reason. */
  public static Words fact(String whenTrue, String whenFalse) {
    return new Words(whenTrue, whenFalse, Depth.FACT);
  }

  /** A fact that people look to last. */
  public static Words last(String whenTrue, String whenFalse) {
    return new Words(whenTrue, whenFalse, Depth.LAST);
  }

  /** Something said together with its reasons. */
  public static Words because(String whenTrue, String whenFalse) {
    return new Words(whenTrue, whenFalse, Depth.BECAUSE);
  }

  /** Something that is only said when it is asked about itself; else what it follows from. */
  public static Words joining(String whenTrue, String whenFalse) {
    return new Words(whenTrue, whenFalse, Depth.THROUGH);
  }

  /** Something that only joins other facts. */
  public static Words through() {
    return new Words("", "", Depth.THROUGH);
  }

  /** The clause for {@code value}. */
  public String when(boolean value) {
    return value ? whenTrue : whenFalse;
  }
}
