package tappet.lcc.memory;

import java.util.Optional;
import tappet.lcc.Bytes;

/**
 * The beginning of a read or write command: what is to be done where (S-9.7.4.2 §4, §4.2).
 *
 * <pre>
 *   20  command  address (4)  [space]  rest        command: 76543210
 *                                                           ││││││└┴─ space: 01 FD, 10 FE, 11 FF,
 *                                                           ││││││    00 in the byte of its own
 *                                                           │││││└─── reserved, checked
 *                                                           └┴┴┴┴──── what to do
 * </pre>
 *
 * @param operation the command without its space bits
 * @param place address and space as they came: a reply repeats them
 * @param rest what follows: a count, or data
 */
record Access(int operation, int space, long address, Bytes place, Bytes rest) {

  private static final int SPACE_BITS = 0x03;
  private static final int BUILT_IN = 0xFC;
  private static final int ADDRESS_FROM = 2;
  private static final int ADDRESS_END = 6;

  /** Empty if the datagram is too short for an address and a space. */
  static Optional<Access> read(Bytes datagram) {
    int command = datagram.at(1);
    int spaceBits = command & SPACE_BITS;
    int end = spaceBits == 0 ? ADDRESS_END + 1 : ADDRESS_END;
    if (datagram.length() < end) {
      return Optional.empty();
    }
    int space = spaceBits == 0 ? datagram.at(ADDRESS_END) : BUILT_IN | spaceBits;
    return Optional.of(
        new Access(
            command & ~SPACE_BITS,
            space,
            datagram.number(ADDRESS_FROM, 4),
            datagram.slice(ADDRESS_FROM, end - ADDRESS_FROM),
            datagram.from(end)));
  }

  /** The beginning of a reply: the same space in the same form, the same address. */
  Bytes reply(int operation) {
    boolean ownByte = place.length() > ADDRESS_END - ADDRESS_FROM;
    int spaceBits = ownByte ? 0 : space & SPACE_BITS;
    return Bytes.of(MemoryServer.CONTENT_ID, operation | spaceBits).and(place);
  }
}
