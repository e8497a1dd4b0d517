package tappet.bridge.adapter.transfer;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import tappet.lcc.AliasMap;
import tappet.lcc.AliasMessage;
import tappet.lcc.Bytes;
import tappet.lcc.CanFrame;
import tappet.lcc.ErrorCode;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.MessageJoiner;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;

/**
 * Joins a CAN segment and one link that carries whole messages (S-9.7.3 §3.6, S-9.7.3.1 §6.1).
 *
 * <pre>
 *             frames                                        messages
 *   segment ──────────► MessageJoiner ─► alias → node id ──────────► link
 *           ◄────────── AliasMessage  ◄─ node id → alias ◄──────────
 *                       from a FarNode
 * </pre>
 *
 * <p>Each node that speaks on the link stands on the segment with an alias of its own, reserved
 * before its first message and given up with AMR when the link ends (TN-9.7.2.1 §2.5, §2.6.2.4).
 * Control frames cross in neither direction (TN-9.7.2.1 §2.4), nor do messages that a gateway must
 * not pass on. All global messages cross, event reports among them, since nobody can ask for those
 * again; addressed ones cross if they are for a node of the other side.
 *
 * <p>What must wait, for an alias or for the name of its sender, waits {@value #PATIENCE_NS} ns and
 * no longer; others pass it meanwhile. Time is an argument; one thread at a time.
 */
public final class Gateway {

  /** The most nodes that stand on the segment for the link; of more, the quietest gives way. */
  static final int FAR_NODES_MAX = 200;

  /** The most messages and frames that wait on each side. */
  static final int WAITING_MAX = 256;

  /** No protective time is shorter (S-9.7.3 §3.7). */
  static final long PATIENCE_NS = 3_000_000_000L;

  /** A far node that was heard so lately keeps its place. */
  static final long LATELY_NS = 60_000_000_000L;

  private static final int RESERVED_MTI_BITS = 0xC000;
  private static final int ABOUT_AN_EVENT = 0x0004;
  private static final int EVENT_BYTES = 8;
  private static final int CODE_BYTES = 2;

  // S-9.7.3 §3.3, S-9.7.3.2 §4
  private static final int REJECTED = 0x0068;
  private static final int DATAGRAM = 0x1C48;
  private static final int DATAGRAM_REJECTED = 0x0A48;

  /** Answers and the like: what refuses them could go on for ever (S-9.7.3 §3.5.1, advice). */
  private static final List<Integer> NEVER_REFUSED =
      List.of(REJECTED, 0x00A8, 0x0668, 0x0A08, 0x0A28, DATAGRAM_REJECTED, 0x0868, 0x0888, 0x08A8);

  /** Where the gateway speaks. */
  public interface Sides {

    /** A frame for the segment; must not call the gateway. */
    void toSegment(CanFrame frame);

    /** A message for the link; must not call the gateway. */
    void toLink(NetworkMessage message);
  }

  private final Sides sides;

  /** The aliases of the segment's nodes; far nodes have told each other theirs, too. */
  private final AliasMap near = new AliasMap();

  private final Map<NodeId, FarNode> far = new LinkedHashMap<>(16, 0.75f, true);
  private final MessageJoiner joiner =
      new MessageJoiner(alias -> farNode(alias).isPresent(), this::cross, this::refuseOnSegment);
  private final Deque<Said> said = new ArrayDeque<>();
  private final Deque<Unnamed> unnamed = new ArrayDeque<>();
  private boolean hasAsked;
  private long nowNs;
  private long dropped;

  /** A frame of a far node that the other far nodes have yet to hear. */
  record Said(FarNode speaker, CanFrame frame) {}

  /** A frame whose sender's node id is not known yet. */
  private record Unnamed(CanFrame frame, long untilNs) {}

  public Gateway(Sides sides) {
    this.sides = sides;
  }

  /** Messages and frames that could not cross so far, or must not. */
  public long dropped() {
    return dropped;
  }

  /** The nodes of the link that stand on the segment now. */
  public int farNodes() {
    return far.size();
  }

  // From the segment to the link

  /** Somebody on the segment has sent a frame. */
  public void frameHeard(CanFrame frame, long nowNs) {
    this.nowNs = nowNs;
    far.values().forEach(node -> node.hear(frame, nowNs));
    learn(Messages.decode(frame));
    if (near.nodeOf(frame.sourceAlias()).isPresent()) {
      joiner.receive(frame, nowNs);
    } else {
      waitForName(frame);
    }
    settle();
  }

  private void learn(Message message) {
    if (message instanceof Message.AliasMapDefinition definition) {
      named(definition.source(), definition.node());
    } else if (message instanceof Message.AliasMapReset reset) {
      near.forget(reset.source());
      joiner.forget(reset.source());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      named(verified.source(), verified.node());
    } else if (message instanceof Message.InitializationComplete complete) {
      joiner.forget(complete.source());
      named(complete.source(), complete.node());
    }
  }

  /** What waited for the name crosses, in its order. */
  private void named(int alias, NodeId node) {
    if (!near.nodeOf(alias).equals(Optional.of(node))) {
      joiner.forget(alias);
    }
    near.learn(alias, node.value());
    List<Unnamed> waited =
        unnamed.stream().filter(one -> one.frame.sourceAlias() == alias).toList();
    unnamed.removeAll(waited);
    waited.forEach(one -> joiner.receive(one.frame, nowNs));
  }

  private void waitForName(CanFrame frame) {
    int alias = frame.sourceAlias();
    if (alias == 0 || !MessageJoiner.isOfMessage(frame)) {
      return;
    }
    if (unnamed.size() == WAITING_MAX) {
      unnamed.removeFirst();
      dropped++;
    }
    boolean isFirst = unnamed.stream().noneMatch(one -> one.frame.sourceAlias() == alias);
    unnamed.add(new Unnamed(frame, nowNs + PATIENCE_NS));
    if (isFirst) {
      askForName(alias);
    }
  }

  /** Only a node with an alias may ask; the first far node that gets one asks everybody. */
  private void askForName(int alias) {
    permitted().findFirst().ifPresent(node -> node.say(verify(node.alias(), alias)));
  }

  private static Message verify(int asker, int alias) {
    return new Message.VerifyNodeIdAddressed(asker, alias, Optional.empty());
  }

  private Stream<FarNode> permitted() {
    return far.values().stream().filter(node -> node.alias() != 0);
  }

  private Optional<FarNode> farNode(int alias) {
    return permitted().filter(node -> node.alias() == alias).findFirst();
  }

  private void cross(AliasMessage message) {
    boolean hasEvent = (message.mti() & ABOUT_AN_EVENT) != 0;
    Optional<NodeId> source = near.nodeOf(message.source());
    if (source.isEmpty() || (hasEvent && message.content().length() < EVENT_BYTES)) {
      dropped++;
      return;
    }
    Bytes rest = hasEvent ? message.content().from(EVENT_BYTES) : message.content();
    sides.toLink(
        new NetworkMessage(
            message.mti(),
            source.get(),
            farNode(message.destination()).map(FarNode::id),
            hasEvent
                ? Optional.of(new EventId(message.content().number(0, EVENT_BYTES)))
                : Optional.empty(),
            Content.of(rest.toArray())));
  }

  private void refuseOnSegment(AliasMessage refusal) {
    farNode(refusal.source()).ifPresent(node -> refusal.frames().forEach(node::say));
  }

  // From the link to the segment

  /** Somebody has sent a message over the link. */
  public void messageHeard(NetworkMessage message, long nowNs) {
    this.nowNs = nowNs;
    if (!mayCross(message)) {
      dropped++;
      return;
    }
    Optional<FarNode> speaker = standIn(message.source());
    if (speaker.isEmpty()) {
      refuse(message, ErrorCode.BUFFER_UNAVAILABLE);
    } else if (message.destination().filter(far::containsKey).isEmpty()) {
      speaker.get().take(message, nowNs);
    }
    settle();
  }

  /** S-9.7.3 §3.1.1; S-9.7.0.3 §5.13. One who is on the segment already is not on the link too. */
  private boolean mayCross(NetworkMessage message) {
    int firstByte = (int) (message.source().value() >>> 40);
    return message.mayBeForwarded()
        && (message.mti() & RESERVED_MTI_BITS) == 0
        && firstByte != 0x00
        && firstByte != 0xFF
        && (far.containsKey(message.source()) || near.aliasOf(message.source()).isEmpty());
  }

  private Optional<FarNode> standIn(NodeId id) {
    FarNode known = far.get(id);
    if (known != null) {
      known.heardAt(nowNs);
      return Optional.of(known);
    }
    if (far.size() == FAR_NODES_MAX && !dismissQuietest()) {
      return Optional.empty();
    }
    FarNode node = new FarNode(id, near, this::say, this::refuse);
    far.put(id, node);
    node.start(nowNs);
    return Optional.of(node);
  }

  private boolean dismissQuietest() {
    FarNode quietest = far.values().iterator().next();
    boolean isQuiet = nowNs - quietest.lastHeardNs() >= LATELY_NS;
    if (isQuiet) {
      dismiss(quietest);
      far.remove(quietest.id());
    }
    return isQuiet;
  }

  private void dismiss(FarNode node) {
    joiner.forget(node.alias());
    node.stop(nowNs);
  }

  /** Who asked for something that cannot be had is told so (S-9.7.3 §3.5.1, S-9.7.3.2 §6). */
  private void refuse(NetworkMessage message, int code) {
    dropped++;
    if (message.destination().isEmpty() || NEVER_REFUSED.contains(message.mti())) {
      return;
    }
    boolean isDatagram = message.mti() == DATAGRAM;
    Bytes reason = Bytes.ofNumber(code, CODE_BYTES);
    Bytes content = isDatagram ? reason : reason.and(Bytes.ofNumber(message.mti(), CODE_BYTES));
    sides.toLink(
        new NetworkMessage(
            isDatagram ? DATAGRAM_REJECTED : REJECTED,
            message.destination().get(),
            Optional.of(message.source()),
            Optional.empty(),
            Content.of(content.toArray())));
  }

  // Both

  /** Does what is due by now. Harmless when nothing is. */
  public void advance(long nowNs) {
    this.nowNs = nowNs;
    far.values().forEach(node -> node.advance(nowNs));
    while (!unnamed.isEmpty() && nowNs - unnamed.getFirst().untilNs >= 0) {
      unnamed.removeFirst();
      dropped++;
    }
    settle();
  }

  /** When {@link #advance} is next needed. */
  public OptionalLong deadlineNs() {
    return LongStream.concat(
            far.values().stream().map(FarNode::deadlineNs).flatMapToLong(OptionalLong::stream),
            unnamed.stream().limit(1).mapToLong(Unnamed::untilNs))
        .min();
  }

  /** The link has ended: nobody stands on the segment for it any more. */
  public void end() {
    far.values().forEach(this::dismiss);
    far.clear();
    unnamed.clear();
    settle();
  }

  private void say(FarNode speaker, CanFrame frame) {
    said.add(new Said(speaker, frame));
  }

  /** The far nodes share a segment with each other, too. */
  private void settle() {
    for (Said next = said.poll(); next != null; next = said.poll()) {
      sides.toSegment(next.frame);
      for (FarNode other : far.values()) {
        if (other != next.speaker) {
          other.hear(next.frame, nowNs);
        }
      }
      askEverybodyOnce();
    }
  }

  /** Nodes that were there before us have told their aliases to others (S-9.7.2.1 §6.2.3). */
  private void askEverybodyOnce() {
    if (!hasAsked) {
      permitted()
          .findFirst()
          .ifPresent(
              node -> {
                hasAsked = true;
                node.say(new Message.AliasMapEnquiry(node.alias(), Optional.empty()));
              });
    }
  }
}
