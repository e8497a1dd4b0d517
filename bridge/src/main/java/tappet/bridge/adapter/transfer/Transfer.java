package tappet.bridge.adapter.transfer;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.lcc.NodeId;

/**
 * A message on a TCP link, or a part of one, with the way it came (TCP-S (draft) §4).
 *
 * <pre>
 *   bytes  2      3       6     6              the same for each further hop     n
 *          flags  length  node  capture time   …                                 message
 * </pre>
 *
 * <p>The length counts what follows it. How further hops count is not spelled out ("rest of
 * message"); here each one counts as part of what those before it carry.
 *
 * @param hops the newest first, at least one, at most {@value #HOPS_MAX}
 * @param part whether this is all of the message
 * @param message the message, or what of it this part carries
 */
public record Transfer(List<Hop> hops, Part part, NetworkMessage message) {

  /** The most hops: more than any layout has gateways in a row. */
  public static final int HOPS_MAX = 16;

  static final int HEAD_BYTES = 5;
  static final int LENGTH_MAX = 0xFFFFFF;

  static final int IS_MESSAGE = 0x8000;
  static final int IS_CHAINED = 0x4000;
  static final int RESERVED = 0x3000;

  private static final int HOP_BYTES = 12;

  public Transfer {
    hops = List.copyOf(hops);
    if (hops.isEmpty() || hops.size() > HOPS_MAX) {
      throw new IllegalArgumentException(hops.size() + " hops, expected 1 to " + HOPS_MAX);
    }
    if (length(hops.size(), message) > LENGTH_MAX) {
      throw new IllegalArgumentException(
          "message of " + message.length() + " bytes, expected less than 16 MiB with its hops");
    }
  }

  private static int length(int hops, NetworkMessage message) {
    return HOP_BYTES + (hops - 1) * (HEAD_BYTES + HOP_BYTES) + message.length();
  }

  /** A whole message put on the link by this node. */
  public static Transfer of(Hop hop, NetworkMessage message) {
    return new Transfer(List.of(hop), Part.SINGLE, message);
  }

  /** The same, passed on by a gateway (TCP-S (draft) §6). */
  public Transfer passedOnBy(Hop gateway) {
    return new Transfer(Stream.concat(Stream.of(gateway), hops.stream()).toList(), part, message);
  }

  /** The bytes that say this. */
  public byte[] encode() {
    ByteBuffer target = ByteBuffer.allocate(HEAD_BYTES + length(hops.size(), message));
    for (int index = 0; index < hops.size(); index++) {
      int left = hops.size() - index;
      target.putShort((short) flags(left > 1));
      Octets.putThree(target, length(left, message));
      Octets.putSix(target, hops.get(index).node().value());
      Octets.putSix(target, hops.get(index).timeMs());
    }
    message.write(target);
    return target.array();
  }

  private int flags(boolean isChained) {
    return IS_MESSAGE | (isChained ? IS_CHAINED : 0) | part.flags();
  }

  /**
   * Reads one transfer, whole and with nothing behind it; empty if it makes no sense: reserved bits
   * set, a length that does not fit, too many hops, or ids missing.
   */
  static Optional<Transfer> read(ByteBuffer bytes) {
    List<Hop> hops = new ArrayList<>();
    int flags = IS_CHAINED;
    while ((flags & IS_CHAINED) != 0) {
      if (bytes.remaining() < HEAD_BYTES + HOP_BYTES || hops.size() == HOPS_MAX) {
        return Optional.empty();
      }
      flags = bytes.getShort() & 0xFFFF;
      boolean isMessage = (flags & (IS_MESSAGE | RESERVED)) == IS_MESSAGE;
      if (!isMessage || Octets.three(bytes) != bytes.remaining()) {
        return Optional.empty();
      }
      hops.add(new Hop(new NodeId(Octets.six(bytes)), Octets.six(bytes)));
    }
    Part part = Part.of(flags);
    return NetworkMessage.read(bytes).map(message -> new Transfer(hops, part, message));
  }
}
