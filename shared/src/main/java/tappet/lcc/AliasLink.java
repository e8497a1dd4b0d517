package tappet.lcc;

import java.util.HashMap;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.Consumer;
import tappet.lcc.Message.AliasMapDefinition;
import tappet.lcc.Message.AliasMapReset;
import tappet.lcc.Message.CheckId;
import tappet.lcc.Message.EventReport;
import tappet.lcc.Message.ProducerIdentified;
import tappet.lcc.Message.ReserveId;

/**
 * The CAN frame layer of one node: gets an alias, defends it, and gives it up (S-9.7.2.1 §5, §6).
 *
 * <pre>
 *           CID 7 6 5 4              RID, AMD                 event 02.01
 *   IDLE ──────────────► TENTATIVE ───────────► PERMITTED ─────────────────► SILENT
 *                          ▲    │  after the wait │      its node id twice
 *                          └────┘                 │
 *                 alias in use, next alias        │ AMR: alias in use, next alias
 *                          ▲                      │
 *                          └──────────────────────┘
 *
 *   the alias that somebody else's frame comes from is …    frame is a CID     anything else
 *   tentative                                               next alias         next alias
 *   the one in use                                          RID, keep it       AMR, next alias
 * </pre>
 *
 * <p>A reserved alias is put to use at once and none are held in stock, so the other rows of
 * S-9.7.2.1 §6.2.5 do not arise. IDLE and TENTATIVE are the standard's Inhibited; SILENT lasts
 * until the next start.
 *
 * <p>Where a bus is joined twice a node hears itself. The first frame that comes back takes its
 * alias away, as it should; the next may carry its own id, from that alias: no other node's.
 *
 * <p>Time is an argument, in nanoseconds from any origin; one thread at a time.
 */
public final class AliasLink {

  /** What a node that finds its node id in use by another may report (S-9.7.2.1 §6.2.6). */
  static final EventId DUPLICATE_NODE_ID = EventId.of("01.01.00.00.00.00.02.01");

  /**
   * From handing over the last CID to handing over the RID. The standard asks for at least 200 ms
   * between them on the bus; the rest is for CIDs still queued on their way there.
   */
  static final long RESERVATION_WAIT_NS = 250_000_000;

  /** What was said under an alias may still come back for so long after that was given up. */
  static final long ECHO_NS = 10_000_000_000L;

  private static final int CHECK_ID_FIRST = 7;
  private static final int CHECK_ID_LAST = 4;
  private static final int NODE_ID_BYTES = 6;

  private enum State {
    IDLE,
    TENTATIVE,
    PERMITTED,
    SILENT
  }

  private final NodeId id;
  private final AliasGenerator aliases;
  private final AliasMap others;
  private final Consumer<CanFrame> send;

  private State state = State.IDLE;
  private int alias;
  private long reservedAtNs;
  private boolean duplicateNodeId;

  /** When each alias was given up, of those that may still be heard. */
  private final Map<Integer, Long> givenUpNs = new HashMap<>();

  AliasLink(NodeId id, AliasSeed seed, Consumer<CanFrame> send) {
    this(id, seed, new AliasMap(), send);
  }

  /**
   * The link of one of several nodes that one program stands for. What one of them sends the others
   * must receive, as from anybody else.
   *
   * @param seed where its row of aliases begins
   * @param others what is known of the aliases of others; the nodes may share it
   * @param send gets every frame the node sends, in order; must not call the link
   */
  public AliasLink(NodeId id, AliasSeed seed, AliasMap others, Consumer<CanFrame> send) {
    this.id = id;
    this.others = others;
    this.send = send;
    this.aliases = new AliasGenerator(seed);
  }

  /** Begins, or begins again after giving up the alias in use. */
  public void start(long nowNs) {
    duplicateNodeId = false;
    if (state == State.PERMITTED) {
      resetAlias(nowNs);
    }
    tryNextAlias(nowNs);
  }

  /** Gives the alias up and stays off the bus until the next start (S-9.7.2.1 §6.2.4). */
  public void stop(long nowNs) {
    if (state == State.PERMITTED) {
      resetAlias(nowNs);
    }
    state = State.IDLE;
    alias = 0;
  }

  /** Takes a frame that somebody else has sent. */
  public void receive(CanFrame frame, long nowNs) {
    if (alias != 0 && frame.sourceAlias() == alias) {
      collide(frame, nowNs);
    }
    if (!Header.isMessage(frame)) {
      control(frame, nowNs);
    }
  }

  /** Does what is due; true if the node has become Permitted by it. */
  public boolean advance(long nowNs) {
    if (state != State.TENTATIVE || nowNs - reservedAtNs < 0) {
      return false;
    }
    state = State.PERMITTED;
    say(new ReserveId(alias));
    say(new AliasMapDefinition(alias, id));
    return true;
  }

  /** When {@link #advance} is next needed. */
  public OptionalLong deadlineNs() {
    return state == State.TENTATIVE ? OptionalLong.of(reservedAtNs) : OptionalLong.empty();
  }

  /** Whether the node may send messages. */
  public boolean permitted() {
    return state == State.PERMITTED;
  }

  /** The alias in use; 0 if there is none. */
  public int alias() {
    return permitted() ? alias : 0;
  }

  /** The seed that gives the alias in use, or tried last, once more. */
  AliasSeed seed() {
    return aliases.seed();
  }

  /** What is known of the aliases of others. */
  AliasMap others() {
    return others;
  }

  /** Whether another node has been heard to use this node's id since the start. */
  public boolean duplicateNodeId() {
    return duplicateNodeId;
  }

  /** Whether the node says nothing until the next start, because another uses its id. */
  public boolean silent() {
    return state == State.SILENT;
  }

  /**
   * This node's id has been heard from an alias that is not its own.
   *
   * @return whether another node uses it; else it was an echo
   */
  boolean hearOwnId(int source, long nowNs) {
    Long sinceNs = givenUpNs.get(source);
    boolean isEcho = sinceNs != null && nowNs - sinceNs < ECHO_NS;
    if (!isEcho) {
      meetDuplicate();
    }
    return !isEcho;
  }

  /**
   * Another node uses this node's id: tell it once if allowed, then say no more. The event is not
   * one that is routed automatically, so it has to be advertised before (S-9.7.3.1 §6).
   */
  private void meetDuplicate() {
    duplicateNodeId = true;
    if (state == State.PERMITTED) {
      say(new ProducerIdentified(alias, DUPLICATE_NODE_ID, Validity.VALID));
      say(new EventReport(alias, DUPLICATE_NODE_ID));
      state = State.SILENT;
      alias = 0;
    }
  }

  /** CIDs carry the node id in four parts, most significant first (S-9.7.2.1 §6.2.1). */
  private void tryNextAlias(long nowNs) {
    alias = aliases.next();
    state = State.TENTATIVE;
    reservedAtNs = nowNs + RESERVATION_WAIT_NS;
    for (int sequence = CHECK_ID_FIRST; sequence >= CHECK_ID_LAST; sequence--) {
      int part = (int) (id.value() >>> (12 * (sequence - CHECK_ID_LAST))) & 0xFFF;
      say(new CheckId(sequence, part, alias));
    }
  }

  private void collide(CanFrame frame, long nowNs) {
    if (state == State.TENTATIVE) {
      tryNextAlias(nowNs);
    } else if (isCheckId(frame)) {
      say(new ReserveId(alias));
    } else {
      resetAlias(nowNs);
      tryNextAlias(nowNs);
    }
  }

  private static boolean isCheckId(CanFrame frame) {
    return !Header.isMessage(frame) && Header.control(frame) >= Mti.CHECK_ID_MIN;
  }

  /** AMR is the last frame of a Permitted node (S-9.7.2.1 §6.2.4). */
  private void resetAlias(long nowNs) {
    say(new AliasMapReset(alias, id));
    givenUpNs.values().removeIf(sinceNs -> nowNs - sinceNs >= ECHO_NS);
    givenUpNs.put(alias, nowNs);
    state = State.IDLE;
    alias = 0;
  }

  private void control(CanFrame frame, long nowNs) {
    switch (Header.control(frame)) {
      case Mti.ALIAS_MAP_DEFINITION -> hearDefinition(frame, nowNs);
      case Mti.ALIAS_MAP_ENQUIRY -> answerEnquiry(frame);
      case Mti.ALIAS_MAP_RESET -> others.forget(frame.sourceAlias());
      default -> {
        // CIDs and RIDs concern only the alias; error reports (S-9.7.2.1 §6.2.7) need no
        // reaction, and all other contents are to be ignored (§6.1).
      }
    }
  }

  private void hearDefinition(CanFrame frame, long nowNs) {
    if (carriesOwnId(frame)) {
      boolean unused = hearOwnId(frame.sourceAlias(), nowNs);
    } else if (frame.length() == NODE_ID_BYTES) {
      others.learn(frame.sourceAlias(), frame.dataValue());
    }
  }

  /** An enquiry for all also makes every node discard what it knows of others (§6.2.3). */
  private void answerEnquiry(CanFrame frame) {
    if (frame.length() == 0) {
      others.clear();
    }
    if (state == State.PERMITTED && (frame.length() == 0 || carriesOwnId(frame))) {
      say(new AliasMapDefinition(alias, id));
    }
  }

  private boolean carriesOwnId(CanFrame frame) {
    return frame.length() == NODE_ID_BYTES && frame.dataValue() == id.value();
  }

  private void say(Message message) {
    send.accept(message.encode());
  }
}
