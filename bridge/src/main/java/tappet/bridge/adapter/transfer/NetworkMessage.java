package tappet.bridge.adapter.transfer;

import java.nio.ByteBuffer;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;

/**
 * A message in its common form: whole, and with node ids instead of aliases (S-9.7.3 §3.1).
 *
 * @param mti all 16 bits; reserved ones are kept as they are (TN-9.7.0.2 §2.1)
 * @param source who says it
 * @param destination whom it is for: there if and only if the MTI has bit 0x0008
 * @param event what it is about: there if and only if the MTI has bit 0x0004
 * @param content the rest
 */
public record NetworkMessage(
    int mti,
    NodeId source,
    Optional<NodeId> destination,
    Optional<EventId> event,
    Content content) {

  private static final int STAYS_ON_ITS_LINK = 0x2000;
  private static final int ADDRESSED = 0x0008;
  private static final int ABOUT_AN_EVENT = 0x0004;
  private static final int MTI_BYTES = 2;
  private static final int NODE_BYTES = 6;
  private static final int EVENT_BYTES = 8;

  public NetworkMessage {
    if (mti < 0 || mti > 0xFFFF) {
      throw new IllegalArgumentException("MTI 0x%X, expected 16 bits".formatted(mti));
    }
    if (destination.isPresent() != has(mti, ADDRESSED)
        || event.isPresent() != has(mti, ABOUT_AN_EVENT)) {
      throw new IllegalArgumentException(
          "MTI 0x%04X with destination %s and event %s, expected what its bits say"
              .formatted(mti, destination, event));
    }
  }

  private static boolean has(int mti, int bit) {
    return (mti & bit) != 0;
  }

  /** Whether a gateway may pass it on (S-9.7.3 §3.1.1). */
  public boolean mayBeForwarded() {
    return !has(mti, STAYS_ON_ITS_LINK);
  }

  /** The same message with other content. */
  NetworkMessage with(Content other) {
    return new NetworkMessage(mti, source, destination, event, other);
  }

  int length() {
    int ids = NODE_BYTES + (destination.isPresent() ? NODE_BYTES : 0);
    return MTI_BYTES + ids + (event.isPresent() ? EVENT_BYTES : 0) + content.length();
  }

  void write(ByteBuffer target) {
    target.putShort((short) mti);
    Octets.putSix(target, source.value());
    destination.ifPresent(node -> Octets.putSix(target, node.value()));
    event.ifPresent(id -> target.putLong(id.value()));
    target.put(content.toBytes());
  }

  /** Reads all that is left; empty if that is too short to hold the ids its MTI tells of. */
  static Optional<NetworkMessage> read(ByteBuffer bytes) {
    if (bytes.remaining() < MTI_BYTES) {
      return Optional.empty();
    }
    int mti = bytes.getShort() & 0xFFFF;
    int idBytes =
        NODE_BYTES
            + (has(mti, ADDRESSED) ? NODE_BYTES : 0)
            + (has(mti, ABOUT_AN_EVENT) ? EVENT_BYTES : 0);
    return bytes.remaining() < idBytes ? Optional.empty() : Optional.of(read(mti, bytes));
  }

  private static NetworkMessage read(int mti, ByteBuffer bytes) {
    NodeId source = new NodeId(Octets.six(bytes));
    Optional<NodeId> destination =
        has(mti, ADDRESSED) ? Optional.of(new NodeId(Octets.six(bytes))) : Optional.empty();
    Optional<EventId> event =
        has(mti, ABOUT_AN_EVENT) ? Optional.of(new EventId(bytes.getLong())) : Optional.empty();
    byte[] rest = new byte[bytes.remaining()];
    bytes.get(rest);
    return new NetworkMessage(mti, source, destination, event, Content.of(rest));
  }
}
