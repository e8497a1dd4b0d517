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

  private final CanFrame[] frames = new CanFrame[PLACES];
  private final Connection[] speakers = new Connection[PLACES];
  private final long[] heardNs = new long[PLACES];

  /** Remembers a frame, and answers whether another connection said the same a moment ago. */
  boolean isCopy(Connection from, CanFrame frame, long nowNs) {
    int place = placeOf(frame);
    if (isKnown(place, frame, nowNs) && speakers[place] != from) {
      return true;
    }
    frames[place] = frame;
    speakers[place] = from;
    heardNs[place] = nowNs;
    return false;
  }

  private boolean isKnown(int place, CanFrame frame, long nowNs) {
    CanFrame known = frames[place];
    return known != null
        && known.header() == frame.header()
        && known.data() == frame.data()
        && known.length() == frame.length()
        && nowNs - heardNs[place] < MEMORY_NS;
  }

  private static int placeOf(CanFrame frame) {
    int mixed = (31 * frame.header() + Long.hashCode(frame.data())) * SPREAD;
    return mixed >>> 20;
  }
}
