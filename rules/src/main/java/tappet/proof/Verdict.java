package tappet.proof;

/** What is known of a property. */
public sealed interface Verdict {

  /** It in one word, or two. */
  String word();

  /**
   * It holds in every state that can be reached.
   *
   * @param ticks how many ticks the proof had to look back
   */
  record Proven(int ticks) implements Verdict {
    @Override
    public String word() {
      return "proven";
    }
  }

  /**
   * It can be broken.
   *
   * @param story how
   */
  record Disproven(Story story) implements Verdict {
    @Override
    public String word() {
      return "disproven";
    }
  }

  /**
   * Neither a proof nor a story was found.
   *
   * @param ticks up to which tick no story breaks it
   */
  record Unproven(int ticks) implements Verdict {
    @Override
    public String word() {
      return "not proven";
    }
  }
}
