package tappet.bridge.adapter.transfer;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;
import java.util.List;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.function.BiConsumer;
import java.util.function.ObjIntConsumer;
import tappet.lcc.AliasLink;
import tappet.lcc.AliasMap;
import tappet.lcc.AliasMessage;
import tappet.lcc.AliasSeed;
import tappet.lcc.Bytes;
import tappet.lcc.CanFrame;
import tappet.lcc.ErrorCode;
import tappet.lcc.Message;
import tappet.lcc.NodeId;

/**
 * Stands on the segment for a node behind the link: has an alias for it, and says what it says. A
 * message waits until there is an alias for its sender and one for whom it is meant.
 */
final class FarNode {

  private final NodeId id;
  private final AliasMap near;
  private final BiConsumer<FarNode, CanFrame> segment;
  private final ObjIntConsumer<NetworkMessage> refuse;
  private final AliasLink link;
  private final Deque<Waiting> waiting = new ArrayDeque<>();
  private long lastHeardNs;

  /** A message that waits, and whether somebody has been asked whom it is for. */
  private record Waiting(NetworkMessage message, long untilNs, boolean hasAsked) {}

  /**
   * @param near the aliases of the segment's nodes
   * @param segment takes what this node says there
   * @param refuse takes what cannot be said, and why
   */
  FarNode(
      NodeId id,
      AliasMap near,
      BiConsumer<FarNode, CanFrame> segment,
      ObjIntConsumer<NetworkMessage> refuse) {
    this.id = id;
    this.near = near;
    this.segment = segment;
    this.refuse = refuse;
    this.link = new AliasLink(id, AliasSeed.of(id), near, this::say);
  }

  NodeId id() {
    return id;
  }

  /** 0 while it has none. */
  int alias() {
    return link.alias();
  }

  long lastHeardNs() {
    return lastHeardNs;
  }

  void heardAt(long nowNs) {
    lastHeardNs = nowNs;
  }

  void start(long nowNs) {
    lastHeardNs = nowNs;
    link.start(nowNs);
  }

  /** Gives its alias up (S-9.7.2.1 §6.2.4). */
  void stop(long nowNs) {
    link.stop(nowNs);
    waiting.clear();
  }

  /** Somebody on the segment has sent a frame. */
  void hear(CanFrame frame, long nowNs) {
    link.receive(frame, nowNs);
    sayWaiting(nowNs);
  }

  void advance(long nowNs) {
    boolean unused = link.advance(nowNs);
    sayWaiting(nowNs);
  }

  OptionalLong deadlineNs() {
    OptionalLong ofLink = link.deadlineNs();
    if (waiting.isEmpty()) {
      return ofLink;
    }
    long first = waiting.getFirst().untilNs;
    return OptionalLong.of(Math.min(first, ofLink.orElse(first)));
  }

  /** The node says this. */
  void take(NetworkMessage message, long nowNs) {
    if (waiting.size() == Gateway.WAITING_MAX) {
      refuse.accept(message, ErrorCode.BUFFER_UNAVAILABLE);
      return;
    }
    waiting.add(new Waiting(message, nowNs + Gateway.PATIENCE_NS, false));
    sayWaiting(nowNs);
  }

  private void sayWaiting(long nowNs) {
    for (Iterator<Waiting> each = waiting.iterator(); each.hasNext(); ) {
      Waiting next = each.next();
      if (trySaying(next.message)) {
        each.remove();
      } else if (nowNs - next.untilNs >= 0) {
        each.remove();
        refuse.accept(next.message, ErrorCode.NOT_FOUND);
      }
    }
    if (!waiting.isEmpty() && link.permitted()) {
      askForMissing();
    }
  }

  /** Whether it needs to wait no longer. */
  private boolean trySaying(NetworkMessage message) {
    OptionalInt destination =
        message.destination().isEmpty()
            ? OptionalInt.of(0)
            : near.aliasOf(message.destination().get());
    if (!link.permitted() || destination.isEmpty()) {
      return false;
    }
    List<CanFrame> frames = frames(message, destination.getAsInt());
    frames.forEach(this::say);
    if (frames.isEmpty()) {
      refuse.accept(message, ErrorCode.INVALID_ARGUMENTS);
    }
    return true;
  }

  private List<CanFrame> frames(NetworkMessage message, int destination) {
    Bytes rest = Bytes.copyOf(message.content().toBytes());
    Bytes content =
        message.event().map(event -> Bytes.ofNumber(event.value(), 8).and(rest)).orElse(rest);
    return new AliasMessage(message.mti(), link.alias(), destination, content).frames();
  }

  /** S-9.7.2.1 §6.2.3: the node with this id tells its alias. */
  private void askForMissing() {
    List<Waiting> all = List.copyOf(waiting);
    waiting.clear();
    for (Waiting one : all) {
      if (!one.hasAsked) {
        say(new Message.AliasMapEnquiry(link.alias(), one.message.destination()));
      }
      waiting.add(new Waiting(one.message, one.untilNs, true));
    }
  }

  void say(Message message) {
    say(message.encode());
  }

  void say(CanFrame frame) {
    segment.accept(this, frame);
  }
}
