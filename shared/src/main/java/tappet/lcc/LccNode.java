package tappet.lcc;

import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Queue;
import java.util.function.Consumer;
import tappet.lcc.Message.ConsumerIdentified;
import tappet.lcc.Message.EventReport;
import tappet.lcc.Message.IdentifyConsumer;
import tappet.lcc.Message.IdentifyEventsAddressed;
import tappet.lcc.Message.IdentifyEventsGlobal;
import tappet.lcc.Message.IdentifyProducer;
import tappet.lcc.Message.InitializationComplete;
import tappet.lcc.Message.OptionalInteractionRejected;
import tappet.lcc.Message.ProducerIdentified;
import tappet.lcc.Message.ProtocolSupportInquiry;
import tappet.lcc.Message.ProtocolSupportReply;
import tappet.lcc.Message.Unrecognised;
import tappet.lcc.Message.VerifiedNodeId;
import tappet.lcc.Message.VerifyNodeIdAddressed;
import tappet.lcc.Message.VerifyNodeIdGlobal;

/**
 * One full LCC node: the frame layer (S-9.7.2.1), the message network (S-9.7.3) and event transport
 * (S-9.7.3.1). It has no clock and no thread: its owner hands it every frame that others have sent,
 * and the time, in nanoseconds from any origin.
 *
 * <p>A node takes part in its own messages (S-9.7.3 §3.6), so its own reports also reach its own
 * {@link Application}; the frames it has sent must not be handed back to it. All calls come from
 * one thread. {@code send} must not call the node; the application may, also from within a call to
 * it.
 */
public final class LccNode {

  /** What a node's owner provides and hears. */
  public interface Application {

    /** What the node may report, in a fixed order; asked once a {@link #start}. */
    List<EventId> produced();

    /** What the node acts on, in a fixed order; asked once a {@link #start}. */
    List<EventId> consumed();

    /** Whether the state that a produced event stands for holds now. */
    Validity producerState(EventId event);

    /** Whether the state that a consumed event brings about holds now. */
    Validity consumerState(EventId event);

    /** The node may speak: for the first time, or again after it had to change its alias. */
    void ready(long nowNs);

    /** A consumed event has been reported, by another node or by this one. */
    void eventReported(EventId event, long nowNs);

    /** A producer of a consumed event has told its state; the event has not happened by that. */
    void producerIdentified(EventId event, Validity validity, long nowNs);

    /** A consumer of a produced event has told its state; the event has not happened by that. */
    void consumerIdentified(EventId event, Validity validity, long nowNs);
  }

  private final NodeId id;
  private final Application application;
  private final Consumer<CanFrame> send;
  private final AliasLink link;

  private EventSet produced = EventSet.EMPTY;
  private EventSet consumed = EventSet.EMPTY;
  private boolean initialized;
  private long nowNs;

  private final Queue<CanFrame> unheard = new ArrayDeque<>();
  private boolean hearing;

  /**
   * A node that does nothing before {@link #start}.
   *
   * @param send gets every frame the node sends, in order
   */
  public LccNode(NodeId id, Application application, Consumer<CanFrame> send) {
    this.id = id;
    this.application = application;
    this.send = send;
    this.link = new AliasLink(id, send);
  }

  /** Starts, or resets, the node: it reserves an alias, announces its events and is ready. */
  public void start(long nowNs) {
    this.nowNs = nowNs;
    produced = new EventSet(application.produced());
    consumed = new EventSet(application.consumed());
    initialized = false;
    unheard.clear();
    link.start(nowNs);
  }

  /** Takes a frame that another node has sent. One that does not concern it costs no garbage. */
  public void receive(CanFrame frame, long nowNs) {
    this.nowNs = nowNs;
    link.receive(frame, nowNs);
    if (initialized && concerns(frame)) {
      unheard.add(frame);
      hearAll();
    }
  }

  /** Does what is due by now. Harmless when nothing is. */
  public void advance(long nowNs) {
    this.nowNs = nowNs;
    if (link.advance(nowNs)) {
      beginToSpeak();
    }
  }

  /** When {@link #advance} is needed next; empty: not before another call has changed that. */
  public OptionalLong deadlineNs() {
    return link.deadlineNs();
  }

  /** Whether the node has announced itself and may send messages now. */
  public boolean ready() {
    return initialized && link.permitted();
  }

  /** The alias in use, 1 to 0xFFF; 0 while the node has none. */
  public int alias() {
    return link.alias();
  }

  public NodeId id() {
    return id;
  }

  /**
   * Whether another node has been heard to use this node's id since the start: the user should be
   * told. A node that was permitted to send has then reported it and stays silent until the next
   * {@link #start} (S-9.7.2.1 §6.2.6, S-9.7.3 §3.5.4).
   */
  public boolean duplicateNodeId() {
    return link.duplicateNodeId();
  }

  /**
   * Reports that an event has happened. An event that is not among those produced is announced
   * first (S-9.7.3.1 §6). The node's own consumers hear of it at the time of the latest call that
   * told the time.
   *
   * @return false, and nothing is sent, unless the node is {@link #ready}
   */
  public boolean report(EventId event) {
    if (!ready()) {
      return false;
    }
    if (!produced.contains(event)) {
      say(new ProducerIdentified(alias(), event, Validity.UNKNOWN));
    }
    return tell(new EventReport(alias(), event));
  }

  /** Asks the producers of an event for its state; false as with {@link #report}. */
  public boolean identifyProducer(EventId event) {
    return ready() && tell(new IdentifyProducer(alias(), event));
  }

  /** Asks the consumers of an event for its state; false as with {@link #report}. */
  public boolean identifyConsumer(EventId event) {
    return ready() && tell(new IdentifyConsumer(alias(), event));
  }

  /** Asks the node of that id, and no other, to answer; false as with {@link #report}. */
  public boolean verifyNode(NodeId node) {
    return ready() && tell(new VerifyNodeIdGlobal(alias(), Optional.of(node)));
  }

  private boolean tell(Message message) {
    say(message);
    hearAll();
    return true;
  }

  /** A new alias does not make a node start over: it stays Initialized (S-9.7.3 §3.2). */
  private void beginToSpeak() {
    if (!initialized) {
      say(new InitializationComplete(alias(), id, false));
      identifyEvents();
      initialized = true;
    }
    application.ready(nowNs);
    hearAll();
  }

  private void identifyEvents() {
    produced.inOrder().forEach(this::identifyAsProducer);
    consumed.inOrder().forEach(this::identifyAsConsumer);
  }

  private void identifyAsProducer(EventId event) {
    say(new ProducerIdentified(alias(), event, application.producerState(event)));
  }

  private void identifyAsConsumer(EventId event) {
    say(new ConsumerIdentified(alias(), event, application.consumerState(event)));
  }

  /** Sends, and remembers what this node itself will have to hear. Only while Permitted. */
  private void say(Message message) {
    CanFrame frame = message.encode();
    send.accept(frame);
    if (concerns(frame)) {
      unheard.add(frame);
    }
  }

  /** Whether to look at a message at all; nearly all traffic ends here. */
  private boolean concerns(CanFrame frame) {
    if (!Header.isMessage(frame)) {
      return false;
    }
    if (Header.carriesEvent(frame)) {
      return consumed.contains(frame.data()) || produced.contains(frame.data());
    }
    int destination = Header.destination(frame);
    return destination == 0 ? Header.hasMti(frame) : destination == alias();
  }

  /** One message after the other, even if hearing one leads to the next. */
  private void hearAll() {
    if (hearing) {
      return;
    }
    hearing = true;
    try {
      for (CanFrame frame = unheard.poll(); frame != null; frame = unheard.poll()) {
        hear(Messages.decode(frame));
      }
    } finally {
      hearing = false;
    }
  }

  /** A node hears even while it has no alias to answer with. */
  private void hear(Message message) {
    if (message instanceof EventReport report) {
      hearReport(report);
    } else if (message instanceof ProducerIdentified identified) {
      hearProducer(identified);
    } else if (message instanceof ConsumerIdentified identified) {
      hearConsumer(identified);
    } else if (message instanceof VerifiedNodeId verified) {
      watchForDuplicate(verified.node(), verified.source());
    } else if (message instanceof InitializationComplete complete) {
      watchForDuplicate(complete.node(), complete.source());
    } else if (link.permitted()) {
      answer(message);
    }
  }

  /** Kinds not named here need no answer: they are themselves replies, or concern aliases. */
  private void answer(Message message) {
    if (message instanceof IdentifyProducer enquiry) {
      answerAsProducer(enquiry);
    } else if (message instanceof IdentifyConsumer enquiry) {
      answerAsConsumer(enquiry);
    } else if (message instanceof IdentifyEventsGlobal
        || message instanceof IdentifyEventsAddressed) {
      identifyEvents();
    } else if (message instanceof VerifyNodeIdGlobal enquiry) {
      answerVerify(enquiry);
    } else if (message instanceof VerifyNodeIdAddressed) {
      verify();
    } else if (message instanceof ProtocolSupportInquiry inquiry) {
      answerProtocolSupport(inquiry);
    } else if (message instanceof Unrecognised unrecognised) {
      reject(unrecognised.frame());
    }
  }

  private void hearReport(EventReport report) {
    if (consumed.contains(report.event())) {
      application.eventReported(report.event(), nowNs);
    }
  }

  private void hearProducer(ProducerIdentified identified) {
    if (consumed.contains(identified.event())) {
      application.producerIdentified(identified.event(), identified.validity(), nowNs);
    }
  }

  private void hearConsumer(ConsumerIdentified identified) {
    if (produced.contains(identified.event())) {
      application.consumerIdentified(identified.event(), identified.validity(), nowNs);
    }
  }

  private void answerAsProducer(IdentifyProducer enquiry) {
    if (produced.contains(enquiry.event())) {
      identifyAsProducer(enquiry.event());
    }
  }

  private void answerAsConsumer(IdentifyConsumer enquiry) {
    if (consumed.contains(enquiry.event())) {
      identifyAsConsumer(enquiry.event());
    }
  }

  private void answerVerify(VerifyNodeIdGlobal enquiry) {
    if (enquiry.node().isEmpty() || enquiry.node().get().equals(id)) {
      verify();
    }
  }

  private void verify() {
    say(new VerifiedNodeId(alias(), id, false));
  }

  private void watchForDuplicate(NodeId node, int source) {
    if (node.equals(id) && source != alias()) {
      link.meetDuplicate();
    }
  }

  private void answerProtocolSupport(ProtocolSupportInquiry inquiry) {
    say(new ProtocolSupportReply(alias(), inquiry.source(), ProtocolSupportReply.EVENT_EXCHANGE));
  }

  /**
   * Whoever addresses this node must learn that nothing will come of it (S-9.7.3 §3.5.1), once a
   * message. A rejection or acknowledgement is never rejected, or two nodes could go on for ever.
   */
  private void reject(CanFrame frame) {
    if (Header.destination(frame) == 0
        || frame.sourceAlias() == 0
        || !Header.beginsMessage(frame)
        || isReply(frame)) {
      return;
    }
    say(
        new OptionalInteractionRejected(
            alias(),
            frame.sourceAlias(),
            OptionalInteractionRejected.NOT_IMPLEMENTED,
            Header.commonMti(frame)));
  }

  private static boolean isReply(CanFrame frame) {
    int mti = Header.commonMti(frame);
    return mti == Mti.DATAGRAM_RECEIVED_OK || mti == Mti.DATAGRAM_REJECTED;
  }
}
