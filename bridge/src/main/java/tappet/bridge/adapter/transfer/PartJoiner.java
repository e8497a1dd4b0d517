package tappet.bridge.adapter.transfer;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;

/**
 * Joins the parts of messages: those whose MTI, ids and ways are the same, in the order in which
 * they come (TCP-S (draft) §5.1). A part that does not fit is dropped and counted, with what it did
 * not fit to. Not for several threads at once.
 */
public final class PartJoiner {

  /** The most messages begun and not ended yet; the oldest gives way. */
  static final int MESSAGES_MAX = 64;

  /** A message not ended by then is given up; no protective time is shorter (S-9.7.3 §3.7). */
  static final long PATIENCE_NS = 3_000_000_000L;

  private final Map<Key, Begun> begun = new LinkedHashMap<>();
  private long dropped;

  /** The whole message that ends with this part, if one does. */
  public Optional<Transfer> join(Transfer part, long nowNs) {
    forgetLate(nowNs);
    return switch (part.part()) {
      case SINGLE -> Optional.of(part);
      case FIRST -> begin(part, nowNs);
      case MIDDLE -> {
        add(part);
        yield Optional.empty();
      }
      case LAST -> {
        add(part);
        yield Optional.ofNullable(begun.remove(Key.of(part))).map(Begun::whole);
      }
    };
  }

  private void forgetLate(long nowNs) {
    int before = begun.size();
    begun.values().removeIf(message -> nowNs - message.sinceNs >= PATIENCE_NS);
    dropped += before - begun.size();
  }

  private Optional<Transfer> begin(Transfer part, long nowNs) {
    Key key = Key.of(part);
    if (begun.remove(key) != null) {
      dropped++;
    }
    if (begun.size() == MESSAGES_MAX) {
      begun.remove(begun.keySet().iterator().next());
      dropped++;
    }
    begun.put(key, new Begun(part, nowNs));
    return Optional.empty();
  }

  private void add(Transfer part) {
    Begun message = begun.get(Key.of(part));
    if (message == null || !message.add(part)) {
      begun.remove(Key.of(part));
      dropped++;
    }
  }

  /** Messages and parts given up so far. */
  public long dropped() {
    return dropped;
  }

  private record Key(
      int mti,
      NodeId source,
      Optional<NodeId> destination,
      Optional<EventId> event,
      List<NodeId> way) {

    static Key of(Transfer part) {
      NetworkMessage message = part.message();
      return new Key(
          message.mti(),
          message.source(),
          message.destination(),
          message.event(),
          part.hops().stream().map(Hop::node).toList());
    }
  }

  /** A message so far: its parts' content, and the lowest times of its hops. */
  private static final class Begun {
    private final NetworkMessage head;
    private final List<Hop> hops;
    private final long sinceNs;
    private Content content;

    Begun(Transfer first, long nowNs) {
      this.head = first.message();
      this.hops = new ArrayList<>(first.hops());
      this.sinceNs = nowNs;
      this.content = head.content();
    }

    /** Whether the part still fits into a transfer that would be read. */
    boolean add(Transfer part) {
      content = content.then(part.message().content());
      for (int index = 0; index < hops.size(); index++) {
        Hop known = hops.get(index);
        Hop next = part.hops().get(index);
        hops.set(index, new Hop(known.node(), Math.min(known.timeMs(), next.timeMs())));
      }
      return content.length() <= TransferReader.TRANSFER_BYTES_MAX;
    }

    Transfer whole() {
      return new Transfer(hops, Part.SINGLE, head.with(content));
    }
  }
}
