package tappet.layout;

/** The two states of an electric lock. */
public enum LockState {
  /** The switch can be thrown by hand. */
  RELEASED("release", "released"),
  /** The switch is held where it lies. */
  SECURED("secure", "secured");

  private final String order;
  private final String word;

  LockState(String order, String word) {
    this.order = order;
    this.word = word;
  }

  /** The word that brings it about, {@code release} or {@code secure}. */
  public String order() {
    return order;
  }

  /** The word for what it is, {@code released} or {@code secured}. */
  public String word() {
    return word;
  }
}
