package tappet.bridge.adapter;

import java.util.ArrayList;
import java.util.List;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.FrameTextReader;

/**
 * The reading side of a line, from its coming up to its breaking: bytes in, frames out. Each time
 * the line comes up takes a new one, so half a frame never outlives its line. One thread only.
 */
final class FrameIntake {

  private static final Logger LOG = LoggerFactory.getLogger(FrameIntake.class);

  private static final byte START = ':';

  private final String name;
  private final TrafficCount traffic;
  private final FrameTextReader reader = new FrameTextReader();
  private final PlainFrameReader plain = new PlainFrameReader();
  private final List<CanFrame> frames = new ArrayList<>();
  private long malformed;
  private long skippedBytes;
  private boolean told;

  /** The patient reader has nothing begun, so the fast one may try. */
  private boolean isBetween = true;

  FrameIntake(String name, TrafficCount traffic) {
    this.name = name;
    this.traffic = traffic;
  }

  /** The frames completed by these bytes, in order; the list is valid until the next call. */
  List<CanFrame> feed(byte[] bytes, int offset, int length) {
    frames.clear();
    int end = offset + length;
    for (int index = offset; index < end; ) {
      index = isBetween ? readPlain(bytes, index, end) : readAny(bytes, index);
    }
    traffic.framesIn.add(frames.size());
    countGarbage();
    return frames;
  }

  private int readPlain(byte[] bytes, int index, int end) {
    int next = plain.read(bytes, index, end);
    if (next == index) {
      return readAny(bytes, index);
    }
    frames.add(plain.frame());
    return next;
  }

  private int readAny(byte[] bytes, int index) {
    int before = frames.size();
    reader.feed(bytes[index], frames::add);
    isBetween = frames.size() > before || (isBetween && bytes[index] != START);
    return index + 1;
  }

  private void countGarbage() {
    traffic.malformed.add(reader.malformed() - malformed);
    traffic.skippedBytes.add(reader.skippedBytes() - skippedBytes);
    malformed = reader.malformed();
    skippedBytes = reader.skippedBytes();
    if (!told && isWorthTelling()) {
      told = true;
      LOG.warn("{} sends what is no frame; it is skipped, and counted from now on", name);
    }
  }

  /** The rest of a frame begun before we listened is no fault of the peer. */
  private boolean isWorthTelling() {
    return malformed > 0 || skippedBytes > FrameText.TEXT_LENGTH_MAX;
  }

  /** The line broke: sums up what could not be read. */
  void end() {
    if (told) {
      LOG.warn("{} sent {} malformed frames, {} bytes were skipped", name, malformed, skippedBytes);
    }
  }
}
