package tappet.lcc;

import java.util.ArrayList;
import java.util.List;

/**
 * A whole message on a CAN segment, whatever it says: with aliases, and however many frames it
 * takes.
 *
 * @param mti all 16 bits, as on other links (S-9.7.3 §3.1.1)
 * @param source the sender's alias, 1 to 0xFFF
 * @param destination the alias it is for; 0 if it is for all
 * @param content all that follows the node ids, an event id first if the MTI tells of one
 */
public record AliasMessage(int mti, int source, int destination, Bytes content) {

  /** An event report with payload, as it is on links that carry it whole (S-9.7.3.1 §7). */
  static final int REPORT_WITH_PAYLOAD = 0x0F14;

  static final int PAYLOAD_MAX = 256;
  static final int STREAM_PART_MAX = 7;

  private static final int EVENT_BYTES = 8;

  /**
   * The frames that say this; none if it is too long for its kind, or of a kind that CAN does not
   * know.
   */
  public List<CanFrame> frames() {
    return switch (mti) {
      case Mti.DATAGRAM ->
          content.length() <= DatagramReceiver.LENGTH_MAX
              ? DatagramFrames.of(source, destination, content)
              : List.of();
      case Mti.STREAM_DATA -> stream();
      case REPORT_WITH_PAYLOAD -> reportWithPayload();
      default -> mti > Mti.CAN_MASK ? List.of() : plain();
    };
  }

  private List<CanFrame> plain() {
    if (destination != 0) {
      return content.length() <= AddressedReceiver.LENGTH_MAX
          ? AddressedFrames.of(mti, source, destination, content)
          : List.of();
    }
    return content.length() <= CanFrame.LENGTH_MAX ? List.of(global(mti, content)) : List.of();
  }

  private CanFrame global(int canMti, Bytes data) {
    return CanFrame.of(
        Header.ofMessage(canMti, source), data.length(), data.number(0, data.length()));
  }

  /** The event id, then the payload in frames of eight bytes and a last one of one to eight. */
  private List<CanFrame> reportWithPayload() {
    int payload = content.length() - EVENT_BYTES;
    if (payload < 1 || payload > PAYLOAD_MAX) {
      return List.of();
    }
    List<CanFrame> frames = new ArrayList<>();
    frames.add(global(Mti.EVENT_REPORT_WITH_PAYLOAD, content.slice(0, EVENT_BYTES)));
    int from = EVENT_BYTES;
    for (; content.length() - from > CanFrame.LENGTH_MAX; from += CanFrame.LENGTH_MAX) {
      frames.add(global(Mti.PAYLOAD_GOES_ON, content.slice(from, CanFrame.LENGTH_MAX)));
    }
    frames.add(global(Mti.PAYLOAD_ENDS, content.from(from)));
    return frames;
  }

  /** Each frame begins with the stream's id (STREAM-S (draft) §4). */
  private List<CanFrame> stream() {
    List<CanFrame> frames = new ArrayList<>();
    for (int from = 1; from < content.length(); from += STREAM_PART_MAX) {
      int length = Math.min(STREAM_PART_MAX, content.length() - from);
      Bytes data = content.slice(0, 1).and(content.slice(from, length));
      frames.add(
          CanFrame.of(
              Header.ofStream(destination, source), data.length(), data.number(0, data.length())));
    }
    return frames;
  }
}
