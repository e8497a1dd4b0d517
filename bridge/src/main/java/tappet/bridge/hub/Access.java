package tappet.bridge.hub;

/** What a connection may do. */
public enum Access {
  /** Hears everything, and is heard by everybody. */
  FULL(true, true),

  /**
   * A guest's: hears everything; what it says is counted and dropped, and reaches neither bus nor
   * box.
   */
  VISITOR(true, false),

  /** A bus that others run: it is heard by everybody, and nothing whatever is sent to it. */
  OVERHEARD(false, true);

  private final boolean hears;
  private final boolean speaks;

  Access(boolean hears, boolean speaks) {
    this.hears = hears;
    this.speaks = speaks;
  }

  /** Whether frames are sent to it. */
  public boolean hears() {
    return hears;
  }

  /** Whether its frames are taken. */
  public boolean speaks() {
    return speaks;
  }
}
