package tappet.bridge.hub;

import tappet.lcc.CanFrame;

/**
 * Remembers the frames of the last second and who said them first. A frame names its sender by an
 * alias, and an alias lives behind one connection only; so the same frame from two connections is
 * likely one frame that came by two ways.
 *
 * <p>Bounded and forgetful: of two frames that want the same place, the later one stays.
 */
final class RecentFrames {

  static final long MEMORY_NS = 1_000_000_000L;

  private static final int PLACES = 4096;
  private static final int SPREAD = 0x9E3779B9;

  // Numbers instead of frames: nothing is kept alive, and nothing is looked up elsewhere.
  private final long[] heads = new long[PLACES];
  private final long[] data = new long[PLACES];
  private final long[] heardNs = new long[PLACES];
  private final Connection[] speakers = new Connection[PLACES];

  /** Remembers a frame, and answers whether another connection said the same a moment ago. */
  boolean isCopy(Connection from, CanFrame frame, long nowNs) {
    int place = placeOf(frame);
    boolean isKnown = isKnown(place, frame, nowNs);
    if (isKnown && speakers[place] != from) {
      return true;
    }
    if (!isKnown) {
      heads[place] = head(frame);
      data[place] = frame.data();
      speakers[place] = from;
    }
    heardNs[place] = nowNs;
    return false;
  }

  private boolean isKnown(int place, CanFrame frame, long nowNs) {
    return speakers[place] != null
        && heads[place] == head(frame)
        && data[place] == frame.data()
        && nowNs - heardNs[place] < MEMORY_NS;
  }

  private static long head(CanFrame frame) {
    return ((long) frame.header() << 4) | frame.length();
  }

  private static int placeOf(CanFrame frame) {
    int mixed = (31 * frame.header() + Long.hashCode(frame.data())) * SPREAD;
    return mixed >>> 20;
  }
}
