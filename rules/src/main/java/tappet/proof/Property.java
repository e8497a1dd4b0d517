package tappet.proof;

import tappet.network.Variable;

/**
 * Something that must always hold.
 *
 * @param kind what it is about
 * @param words what it says, in plain words
 * @param holds the variable that is true while it holds
 * @param premise the variable without which it says nothing: where this can never be true, the
 *     property holds for no good reason
 */
public record Property(Kind kind, String words, Variable holds, Variable premise) {

  /** What safety is made of (interlocking sheet, F.1). */
  public enum Kind {
    CLEAR_WAY("a proceed aspect has a detected, clear way beyond it", "S4, S5, S8, S13"),
    ONE_AUTHORITY("no two trains have authority over one section", "S1, S2, S6, S7, S10"),
    LINE_ONE_WAY("trains do not meet head on between control points", "S11"),
    SWITCH_UNDER_TRAIN("no switch moves under a train", "S3"),
    SWITCH_UNDER_AUTHORITY("no switch moves before a train that may run over it", "S9, S10"),
    LOCK_UNDER_AUTHORITY("no electric lock opens before a train", "S15"),
    ASPECT_BEYOND("no aspect is better than what lies beyond", "S12"),
    ASPECT_SPEED("no aspect allows a speed that is too high for the way", "S12"),
    FLANK("what guards the way of a train lies so that it does", "S2, S8"),
    PEOPLE("no train is led to people at work, no switch moves under their hands", "S16"),
    OPENING("no train is led onto an opening, and none opens before one", "S8, S9"),
    ROAD("the road is warned before a train comes over the crossing, and while it does", "S17"),
    START("nothing is given before the time since the start has run", "S19"),
    EMERGENCY("nothing is given in an emergency", "common practice, no source");

    private final String words;
    private final String source;

    Kind(String words, String source) {
      this.words = words;
      this.source = source;
    }

    /** What all properties of the kind say together. */
    public String words() {
      return words;
    }

    /** Where in section F.1 of the interlocking sheet it comes from. */
    public String source() {
      return source;
    }
  }
}
