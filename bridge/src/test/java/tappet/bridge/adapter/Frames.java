package tappet.bridge.adapter;

import java.util.List;
import java.util.stream.IntStream;
import tappet.lcc.CanFrame;

/** Numbered frames, so that order and number can be checked at the far end. */
final class Frames {

  /** Marks the end of what a test sends. */
  static final CanFrame LAST = CanFrame.empty(0x195B4FFF);

  private static final int HEADER = 0x195B4000;

  private Frames() {}

  static CanFrame numbered(int sender, int number) {
    return CanFrame.of(HEADER | sender, 8, number);
  }

  static List<CanFrame> numbered(int sender, int from, int to) {
    return IntStream.range(from, to).mapToObj(number -> numbered(sender, number)).toList();
  }
}
