package tappet.proof.mutants;

/**
 * A rule file with one fault in it.
 *
 * @param kind the class of fault
 * @param words what was done, and where
 * @param text the rule file
 */
record Fault(Kind kind, String words, String text) {

  /** What people do wrong in a rule file. */
  enum Kind {
    ROW_LEFT_OUT("a route's row left out"),
    SECTION_LEFT_OUT("a section left out of what is clear"),
    SWITCH_FLIPPED("a switch in the other position"),
    SWITCH_LEFT_OUT("a switch left out"),
    FLANK_FLIPPED("a flank switch in the other position"),
    FLANK_LEFT_OUT("a flank switch left out"),
    CONFLICT_LEFT_OUT("a conflict left out"),
    OVERLAP_LEFT_OUT("an overlap, or a part of it, left out"),
    NEED_LEFT_OUT("an owner's need left out"),
    OTHER_END("a row that leads elsewhere"),
    OTHER_SPEED("another speed"),
    SHORT_TIME("a time of a tenth"),
    TIME_LEFT_OUT("a time left out"),
    APPROACH_LEFT_OUT("an approach left out"),
    APPROACH_SHORTENED("a section left out of an approach"),
    CALL_ON_ADDED("call on added"),
    CALL_ON_LEFT_OUT("call on left out"),
    AUTOMATIC_ADDED("automatic added"),
    AUTOMATIC_LEFT_OUT("automatic left out"),
    WRONG_RUNG("a wrong aspect in a ladder"),
    RUNG_LEFT_OUT("a line left out of a ladder"),
    LINE_LEFT_OUT("a line, or a section of it, left out of the traffic"),
    SIGNAL_LEFT_OUT("a signal left out of the traffic"),
    SIGNAL_TURNED("a signal in the other direction of traffic"),
    LOCK_LEFT_OUT("the rule of an electric lock left out"),
    LOCK_APPROACH_SHORTENED("a section left out of the approach of an electric lock"),
    RELEASE_SECTION_LEFT_OUT("the release section of an electric lock left out"),
    OTHER_RELEASE_SECTION("another release section of an electric lock"),
    FLAG_LEFT_OUT("the rule of a blue flag left out"),
    CROSSING_LEFT_OUT("the rule of a grade crossing, or an approach of it, left out"),
    LINESIDE_LEFT_OUT("the rule of a lamp or a button left out");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  @Override
  public String toString() {
    return words;
  }
}
