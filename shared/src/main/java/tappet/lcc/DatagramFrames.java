package tappet.lcc;

import java.util.ArrayList;
import java.util.List;

/** Cuts a datagram into frames, all but the last one full (S-9.7.3.2 §7.1). */
final class DatagramFrames {

  private DatagramFrames() {}

  /** The frames of a datagram of 0 to 72 bytes, in order. */
  static List<CanFrame> of(int source, int destination, Bytes content) {
    List<CanFrame> frames = new ArrayList<>();
    int from = 0;
    do {
      int length = Math.min(CanFrame.LENGTH_MAX, content.length() - from);
      DatagramPart part = part(from == 0, from + length == content.length());
      int header = Header.ofDatagram(part, destination, source);
      frames.add(CanFrame.of(header, length, content.number(from, length)));
      from += length;
    } while (from < content.length());
    return frames;
  }

  private static DatagramPart part(boolean first, boolean last) {
    if (first) {
      return last ? DatagramPart.ONLY : DatagramPart.FIRST;
    }
    return last ? DatagramPart.LAST : DatagramPart.MIDDLE;
  }
}
