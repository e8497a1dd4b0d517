package tappet.lcc;

/**
 * The fields of the 29-bit header, and of the address in front of addressed content (S-9.7.2.1 §4,
 * S-9.7.3 §7.3.1). Bit 28 is sent as one and ignored on receipt. All of it works on plain numbers,
 * so that a frame for somebody else is passed over without garbage.
 *
 * <pre>
 *   28        27           26 … 24       23 … 12                     11 … 0
 *   reserved  1 (message)  frame format  MTI, or destination alias   source alias
 *   reserved  0 (control)  ────────── content, 26 … 12 ───────────   source alias
 * </pre>
 */
final class Header {

  /** The largest alias; the smallest is 1, for an alias is never zero (S-9.7.2.1 §6.3). */
  static final int ALIAS_MAX = 0xFFF;

  private static final int RESERVED = 0x1000_0000;
  private static final int MESSAGE = 0x0800_0000;

  private static final int GLOBAL_OR_ADDRESSED = 1;
  private static final int DATAGRAM_ONLY = 2;
  private static final int DATAGRAM_FIRST = 3;
  private static final int DATAGRAM_MIDDLE = 4;
  private static final int DATAGRAM_LAST = 5;
  private static final int STREAM_DATA = 7;

  private static final int MTI_EVENT = 0x004;
  private static final int MTI_ADDRESSED = 0x008;

  private static final int ADDRESS_BYTES = 2;
  // By value: 0 only, 1 first, 2 last, 3 middle (S-9.7.3 §7.3.1.3)
  static final int FRAMING_ONLY = 0;
  static final int FRAMING_FIRST = 1;
  static final int FRAMING_LAST = 2;
  static final int FRAMING_MIDDLE = 3;

  private Header() {}

  /** The header of a control frame with a 15-bit content field. */
  static int ofControl(int content, int source) {
    return RESERVED | (content << 12) | source;
  }

  /** The header of a global or addressed message with a 12-bit MTI. */
  static int ofMessage(int mti, int source) {
    return RESERVED | MESSAGE | (GLOBAL_OR_ADDRESSED << 24) | (mti << 12) | source;
  }

  /** The header of a datagram frame. */
  static int ofDatagram(DatagramPart part, int destination, int source) {
    return RESERVED | MESSAGE | (format(part) << 24) | (destination << 12) | source;
  }

  /** The header of a frame of stream data (STREAM-S (draft) §4). */
  static int ofStream(int destination, int source) {
    return RESERVED | MESSAGE | (STREAM_DATA << 24) | (destination << 12) | source;
  }

  private static int format(DatagramPart part) {
    return switch (part) {
      case ONLY -> DATAGRAM_ONLY;
      case FIRST -> DATAGRAM_FIRST;
      case MIDDLE -> DATAGRAM_MIDDLE;
      case LAST -> DATAGRAM_LAST;
    };
  }

  /** Whether the frame is a datagram or part of one. */
  static boolean isDatagram(CanFrame frame) {
    return isMessage(frame) && format(frame) >= DATAGRAM_ONLY && format(frame) <= DATAGRAM_LAST;
  }

  /** Which part of a datagram a frame that is one is. */
  static DatagramPart datagramPart(CanFrame frame) {
    return switch (format(frame)) {
      case DATAGRAM_ONLY -> DatagramPart.ONLY;
      case DATAGRAM_FIRST -> DatagramPart.FIRST;
      case DATAGRAM_MIDDLE -> DatagramPart.MIDDLE;
      default -> DatagramPart.LAST;
    };
  }

  static boolean isMessage(CanFrame frame) {
    return (frame.header() & MESSAGE) != 0;
  }

  /** The 15-bit content field of a control frame. */
  static int control(CanFrame frame) {
    return (frame.header() >>> 12) & 0x7FFF;
  }

  /** Whether the frame is a global or addressed message, so not of a datagram or stream. */
  static boolean hasMti(CanFrame frame) {
    return isMessage(frame) && format(frame) == GLOBAL_OR_ADDRESSED;
  }

  /** The 12-bit MTI of a frame that has one. */
  static int mti(CanFrame frame) {
    return variableField(frame);
  }

  /** The 16-bit MTI of any message frame (S-9.7.3 §3.1.1); 0 for the reserved frame formats. */
  static int commonMti(CanFrame frame) {
    return switch (format(frame)) {
      case GLOBAL_OR_ADDRESSED -> mti(frame);
      case DATAGRAM_ONLY, DATAGRAM_FIRST, DATAGRAM_MIDDLE, DATAGRAM_LAST -> Mti.DATAGRAM;
      case STREAM_DATA -> Mti.STREAM_DATA;
      default -> 0;
    };
  }

  /** Whether the data of the frame is an event id or belongs to one (S-9.7.3 §3.1.1). */
  static boolean carriesEvent(CanFrame frame) {
    return hasMti(frame) && (mti(frame) & (MTI_EVENT | MTI_ADDRESSED)) == MTI_EVENT;
  }

  /** Whether the frame has an MTI and its data starts with a destination alias. */
  static boolean isAddressed(CanFrame frame) {
    return hasMti(frame) && (mti(frame) & MTI_ADDRESSED) != 0;
  }

  /** The alias that a message frame is addressed to; 0 if it is addressed to nobody. */
  static int destination(CanFrame frame) {
    return switch (format(frame)) {
      case GLOBAL_OR_ADDRESSED -> addressInData(frame);
      case DATAGRAM_ONLY, DATAGRAM_FIRST, DATAGRAM_MIDDLE, DATAGRAM_LAST, STREAM_DATA ->
          variableField(frame);
      default -> 0;
    };
  }

  /** Whether an addressed message begins here: with its only or its first frame. */
  static boolean beginsMessage(CanFrame frame) {
    return switch (format(frame)) {
      case GLOBAL_OR_ADDRESSED -> framing(frame) <= FRAMING_FIRST;
      case DATAGRAM_ONLY, DATAGRAM_FIRST, STREAM_DATA -> true;
      default -> false;
    };
  }

  /** The reserved two bits in front are not checked (S-9.7.3 §7.3.1.3). */
  private static int addressInData(CanFrame frame) {
    boolean present = isAddressed(frame) && frame.length() >= ADDRESS_BYTES;
    return present ? (int) (frame.data() >>> 48) & ALIAS_MAX : 0;
  }

  /** Whether the frame ends an addressed message: as its only or its last frame. */
  static boolean endsMessage(CanFrame frame) {
    return framing(frame) == FRAMING_ONLY || framing(frame) == FRAMING_LAST;
  }

  private static int framing(CanFrame frame) {
    return (int) (frame.data() >>> 60) & 0x3;
  }

  private static int format(CanFrame frame) {
    return (frame.header() >>> 24) & 0x7;
  }

  private static int variableField(CanFrame frame) {
    return (frame.header() >>> 12) & 0xFFF;
  }
}
