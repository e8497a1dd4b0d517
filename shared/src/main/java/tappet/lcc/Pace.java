package tappet.lcc;

/**
 * Keeps a node's share of the bus: in any 50 ms it sends at most {@value #FRAMES} frames of the
 * kind that can wait.
 *
 * <p>A bus of 125 kbit/s carries 781 to 954 eight-byte frames a second (131 to 160 bits each), so
 * 18 frames take 19 to 23 ms of the 50: less than half even when every frame is stuffed to the
 * worst. The other half is for everybody else, and for what cannot wait.
 */
final class Pace {

  static final int FRAMES = 18;
  static final long WINDOW_NS = 50_000_000;

  private final long[] sentNs = new long[FRAMES];
  private int oldest;
  private int noted;
  private int undated;
  private boolean dated;

  /** A call that tells the time begins. Frames sent since the last one count as sent now. */
  void begin(long nowNs) {
    dated = true;
    for (; undated > 0; undated--) {
      sentNs[Math.floorMod(oldest - undated, FRAMES)] = nowNs;
    }
  }

  /** The call ends: from here on it may be any later time. */
  void end() {
    dated = false;
  }

  /** A frame is sent, of whatever kind. */
  void note(long latestNs) {
    sentNs[oldest] = latestNs;
    oldest = (oldest + 1) % FRAMES;
    noted = Math.min(noted + 1, FRAMES);
    undated = dated ? undated : Math.min(undated + 1, FRAMES);
  }

  /** Whether a frame that can wait may be sent. */
  boolean allows(long nowNs) {
    return noted < FRAMES || nowNs - fromNs() >= 0;
  }

  /** From when on the next frame that can wait may be sent; meaningful once it is not allowed. */
  long fromNs() {
    return sentNs[oldest] + WINDOW_NS;
  }
}
