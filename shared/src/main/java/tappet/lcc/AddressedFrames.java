package tappet.lcc;

import java.util.ArrayList;
import java.util.List;

/** Cuts a long addressed message into frames of at most six bytes (S-9.7.3 §7.3.1.3). */
final class AddressedFrames {

  static final int CONTENT_MAX = 6;

  private AddressedFrames() {}

  static List<CanFrame> of(int mti, int source, int destination, Bytes content) {
    List<CanFrame> frames = new ArrayList<>();
    int from = 0;
    do {
      int length = Math.min(CONTENT_MAX, content.length() - from);
      int framing = framing(from == 0, from + length == content.length());
      int address = (framing << 12) | destination;
      frames.add(Messages.addressed(mti, source, address, length, content.number(from, length)));
      from += length;
    } while (from < content.length());
    return frames;
  }

  private static int framing(boolean first, boolean last) {
    if (first) {
      return last ? Header.FRAMING_ONLY : Header.FRAMING_FIRST;
    }
    return last ? Header.FRAMING_LAST : Header.FRAMING_MIDDLE;
  }
}
