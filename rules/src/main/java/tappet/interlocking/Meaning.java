package tappet.interlocking;

/** What the change of a variable means outside the network. */
@FunctionalInterface
interface Meaning {

  /** Most changes mean something to other variables only. */
  Meaning NOTHING = (value, outcome) -> {};

  /** Its variable has become {@code value}. */
  void follow(boolean value, Outcome outcome);

  /** This, and then {@code other}. */
  default Meaning and(Meaning other) {
    if (this == NOTHING) {
      return other;
    }
    return (value, outcome) -> {
      follow(value, outcome);
      other.follow(value, outcome);
    };
  }
}
