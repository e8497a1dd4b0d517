package tappet.bridge.proof;

/**
 * One thing that happens in a story, as a scenario has it.
 *
 * @param kind who does it
 * @param sentence what is done, in the sentences of scenarios
 * @param words it for people
 */
public record Deed(Kind kind, String sentence, String words) {

  /** Who does it, and by which key a scenario takes it. */
  public enum Kind {
    /** A person asks the box for something. */
    TELL("tell"),
    /** A board reports something, or something befalls the railroad. */
    FAULT("fault"),
    /** Time goes by. */
    PASS("pass"),
    /** Nothing that anybody does by itself: it follows from the rest. */
    FOLLOWS(""),
    /** No sentence says it: the story can be told and not be played. */
    UNSAID("");

    private final String key;

    Kind(String key) {
      this.key = key;
    }

    /** The key of the step in a scenario file; nothing where there is none. */
    public String key() {
      return key;
    }
  }

  static Deed told(String sentence) {
    return new Deed(Kind.TELL, sentence, "Somebody asks: " + sentence);
  }

  static Deed befalls(String sentence) {
    return new Deed(Kind.FAULT, sentence, sentence);
  }

  static Deed follows(String words) {
    return new Deed(Kind.FOLLOWS, "", words);
  }

  static Deed unsaid(String words) {
    return new Deed(Kind.UNSAID, "", words);
  }
}
