package tappet.lcc;

import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Queue;
import java.util.function.Consumer;
import tappet.lcc.Message.ConsumerIdentified;
import tappet.lcc.Message.DatagramReceivedOk;
import tappet.lcc.Message.DatagramRejected;
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
import tappet.lcc.Message.SimpleNodeInformationRequest;
import tappet.lcc.Message.TerminateDueToError;
import tappet.lcc.Message.Unrecognised;
import tappet.lcc.Message.VerifiedNodeId;
import tappet.lcc.Message.VerifyNodeIdAddressed;
import tappet.lcc.Message.VerifyNodeIdGlobal;

/**
 * One full LCC node: the frame layer (S-9.7.2.1), the message network (S-9.7.3), event transport
 * (S-9.7.3.1), datagrams (S-9.7.3.2) and simple node information (S-9.7.4.3). It has no clock and
 * no thread: its owner hands it every frame that others have sent, and the time, in nanoseconds
 * from any origin.
 *
 * <p>A node takes part in its own messages (S-9.7.3 §3.6), so its own reports also reach its own
 * {@link Application}; the frames it has sent must not be handed back to it. All calls come from
 * one thread. {@code send} must not call the node; the application may, also from within a call to
 * it.
 *
 * <p>What can wait is paced: announcements of events, answers to enquiries about events and node
 * ids, and the node's own enquiries together take less than half of a 125 kbit/s bus, 18 frames in
 * any 50 ms. Answers are due within 750 ms (S-9.7.3 §3.7), which the pace allows for 270 of them;
 * beyond that the last one comes later, n / 360 s after the question, because a bus kept full for
 * so long would hold up everybody else's. Event reports never wait, nor does what is for one node
 * alone: that is as much as it asks for.
 *
 * <p>Learn Event is ignored, as S-9.7.3.1 §6.5 leaves open: which event belongs to which device is
 * written in the owner's files, and a node taught otherwise over the bus would contradict them.
 */
public final class LccNode {

  /** What a node's owner provides and hears. */
  public interface Application {

    /** What the node may report; asked at each {@link #start} and {@link #announceAgain}. */
    List<EventId> produced();

    /** What the node acts on; asked at each {@link #start} and {@link #announceAgain}. */
    List<EventId> consumed();

    /**
     * Ranges of which the node may report any event; asked with {@link #produced}. At least half of
     * each is really used, unless a standard permits more (S-9.7.3.1 §4.7).
     */
    default List<EventRange> producedRanges() {
      return List.of();
    }

    /** Ranges of which the node acts on any event; asked with {@link #consumed}. */
    default List<EventRange> consumedRanges() {
      return List.of();
    }

    /** What the node speaks in datagrams; asked at each {@link #start}. None: it takes none. */
    default List<DatagramService> datagramServices() {
      return List.of();
    }

    /** What the node tells of itself now; empty: it takes no part in that (S-9.7.4.3). */
    default Optional<Identity> identity() {
      return Optional.empty();
    }

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

    /** The answer to {@link #askIdentity}; empty: it refused, or has not answered within 3 s. */
    default void identityTold(int alias, Optional<Identity> identity, long nowNs) {}
  }

  /** The deadline of what has none. */
  static final long NEVER = Long.MAX_VALUE;

  private final NodeId id;
  private final Application application;
  private final Consumer<CanFrame> send;
  private final AliasLink link;
  private final Pace pace = new Pace();
  private final Voice voice =
      new Voice() {
        @Override
        public int alias() {
          return link.alias();
        }

        @Override
        public void say(CanFrame frame) {
          LccNode.this.say(frame);
        }
      };

  private final InformationDesk information;
  private final AddressedReceiver longMessages = new AddressedReceiver();
  private DatagramDesk datagrams = new DatagramDesk(List.of(), voice);
  private EventSet produced = EventSet.EMPTY;
  private EventSet consumed = EventSet.EMPTY;
  private Announcements announcements;
  private boolean initialized;
  private boolean toAnnounceAgain;
  private long nowNs;

  private final Queue<CanFrame> unheard = new ArrayDeque<>();
  private boolean settling;

  /**
   * A node that does nothing before {@link #start}.
   *
   * @param send gets every frame the node sends, in order
   */
  public LccNode(NodeId id, Application application, Consumer<CanFrame> send) {
    this(id, application, send, AliasSeed.of(id));
  }

  /**
   * A node that begins with the alias it used last.
   *
   * @param seed what {@link #aliasSeed} gave then
   */
  public LccNode(NodeId id, Application application, Consumer<CanFrame> send, AliasSeed seed) {
    this.id = id;
    this.application = application;
    this.send = send;
    this.link = new AliasLink(id, seed, this::transmit);
    this.information = new InformationDesk(application, voice);
    this.announcements = new Announcements(id, application, produced, consumed);
  }

  /** Starts, or resets, the node: it reserves an alias, announces its events and is ready. */
  public void start(long nowNs) {
    begin(nowNs);
    initialized = false;
    breakOff();
    datagrams = new DatagramDesk(application.datagramServices(), voice);
    askForEvents();
    toAnnounceAgain = false;
    unheard.clear();
    link.start(nowNs);
    pace.end();
  }

  /**
   * Hears, in silence and without an alias, what others report of the events that the application
   * names now. A node that has been started does so anyway.
   */
  public void listen() {
    if (!initialized) {
      askForEvents();
    }
  }

  /** Gives the alias up and leaves the bus until the next {@link #start} (S-9.7.2.1 §6.2.4). */
  public void stop(long nowNs) {
    begin(nowNs);
    initialized = false;
    produced = EventSet.EMPTY;
    consumed = EventSet.EMPTY;
    breakOff();
    unheard.clear();
    link.stop(nowNs);
    pace.end();
  }

  /** Takes a frame that another node has sent. One that does not concern it costs no garbage. */
  public void receive(CanFrame frame, long nowNs) {
    begin(nowNs);
    boolean couldSpeak = link.permitted();
    noticeNewAlias(frame);
    link.receive(frame, nowNs);
    if (couldSpeak && !link.permitted()) {
      breakOff();
    }
    if (hears(frame)) {
      unheard.add(frame);
      settle();
    }
    pace.end();
  }

  /** Does what is due by now. Harmless when nothing is. */
  public void advance(long nowNs) {
    begin(nowNs);
    if (link.advance(nowNs)) {
      beginToSpeak();
    }
    if (ready()) {
      datagrams.advance(nowNs);
      information.advance(nowNs);
      settle();
    }
    pace.end();
  }

  /** When {@link #advance} is needed next; empty: not before another call has changed that. */
  public OptionalLong deadlineNs() {
    if (!ready()) {
      return link.deadlineNs();
    }
    long announcement = announcements.isEmpty() ? NEVER : pace.fromNs();
    long exchange = Math.min(datagrams.deadlineNs(), information.deadlineNs());
    long first = Math.min(announcement, exchange);
    return first == NEVER ? OptionalLong.empty() : OptionalLong.of(first);
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
   * What makes a node constructed later begin with the alias in use, or tried last; worth keeping
   * whenever the node is {@link #ready}.
   */
  public AliasSeed aliasSeed() {
    return link.seed();
  }

  /** The node that an alias stands for, as far as it has been heard (S-9.7.2.1 §6.2.2). */
  public Optional<NodeId> nodeOf(int alias) {
    return alias != 0 && alias == alias() ? Optional.of(id) : link.others().nodeOf(alias);
  }

  /** The alias of a node, as far as it has been heard; {@link #lookUp} makes it tell. */
  public OptionalInt aliasOf(NodeId node) {
    return node.equals(id) && alias() != 0 ? OptionalInt.of(alias()) : link.others().aliasOf(node);
  }

  /**
   * Whether another node has been heard to use this node's id since the start: the user should be
   * told. A node that was permitted to send has then reported it and stays silent until the next
   * {@link #start} (S-9.7.2.1 §6.2.6, S-9.7.3 §3.5.4).
   */
  public boolean duplicateNodeId() {
    return link.duplicateNodeId();
  }

  /** Whether the node says nothing until the next {@link #start}, for that reason. */
  public boolean silent() {
    return link.silent();
  }

  /**
   * Reports that an event has happened, at once. An event that others have not been told of yet is
   * announced first (S-9.7.3.1 §6). The node's own consumers hear of it at the time of the latest
   * call that told the time.
   *
   * @return false, and nothing is sent, unless the node is {@link #ready}
   */
  public boolean report(EventId event) {
    if (!ready()) {
      return false;
    }
    if (!produced.contains(event)) {
      voice.say(new ProducerIdentified(alias(), event, Validity.UNKNOWN));
    } else if (announcements.owesProducer(event)) {
      voice.say(announcements.producerNow(event, alias()));
    }
    voice.say(new EventReport(alias(), event));
    settle();
    return true;
  }

  /**
   * Tells, at once and unasked, the state a produced event stands for, as some protocols want it
   * (S-9.7.4.5 §6.3); false as with {@link #report}.
   */
  public boolean tellProducer(EventId event, Validity validity, long nowNs) {
    begin(nowNs);
    if (ready()) {
      voice.say(new ProducerIdentified(alias(), event, validity));
    }
    return end(ready() && settle());
  }

  /** Asks the producers of an event for its state, at the node's pace; false if it cannot. */
  public boolean identifyProducer(EventId event) {
    return ready() && announcements.askProducer(event) && settle();
  }

  /** Asks the consumers of an event for its state, at the node's pace; false if it cannot. */
  public boolean identifyConsumer(EventId event) {
    return ready() && announcements.askConsumer(event) && settle();
  }

  /** Makes a node tell its id and so its alias, or all if empty (S-9.7.3 §3.4.2). */
  public boolean lookUp(Optional<NodeId> node, long nowNs) {
    begin(nowNs);
    if (ready()) {
      voice.say(new VerifyNodeIdGlobal(alias(), node));
    }
    return end(ready() && settle());
  }

  /**
   * Asks a node for its names and versions; {@link Application#identityTold} hears the answer.
   *
   * @return false, and nothing is sent, unless the node is ready and has no such question open
   */
  public boolean askIdentity(int alias, long nowNs) {
    begin(nowNs);
    return end(ready() && information.ask(alias, nowNs) && settle());
  }

  /**
   * Sends a datagram, as soon as those sent to the same node before are answered.
   *
   * @param content 0 to 72 bytes
   * @param outcome hears once how it ended
   * @return false, and nothing is sent, unless the node is ready and little is waiting
   */
  public boolean sendDatagram(
      int alias, Bytes content, Consumer<DatagramOutcome> outcome, long nowNs) {
    if (content.length() > DatagramReceiver.LENGTH_MAX) {
      throw new IllegalArgumentException(
          content.length() + " bytes, expected at most " + DatagramReceiver.LENGTH_MAX);
    }
    begin(nowNs);
    return end(ready() && datagrams.send(alias, content, outcome, nowNs) && settle());
  }

  /**
   * Announces the node and its events anew, because its {@link Identity} or its events have changed
   * (S-9.7.4.3 §6.3, S-9.7.3.1 §6). From within a call to the application this waits until what is
   * being answered has been answered.
   */
  public void announceAgain(long nowNs) {
    begin(nowNs);
    toAnnounceAgain = initialized;
    settle();
    pace.end();
  }

  private void begin(long nowNs) {
    this.nowNs = nowNs;
    pace.begin(nowNs);
  }

  private boolean end(boolean done) {
    pace.end();
    return done;
  }

  private void askForEvents() {
    produced = new EventSet(application.produced(), application.producedRanges());
    consumed = new EventSet(application.consumed(), application.consumedRanges());
    announcements = new Announcements(id, application, produced, consumed);
  }

  /** What goes on with others is void once the alias is: they would answer the old one. */
  private void breakOff() {
    datagrams.clear();
    information.clear(nowNs);
    longMessages.clear();
  }

  /** Others too lose what goes on with them when they give up their alias (S-9.7.2.1 §6.2.4). */
  private void noticeNewAlias(CanFrame frame) {
    if (Header.isMessage(frame)) {
      return;
    }
    int content = Header.control(frame);
    if (content == Mti.ALIAS_MAP_RESET
        || (content == Mti.ALIAS_MAP_DEFINITION
            && link.others().contradicts(frame.sourceAlias(), frame.dataValue()))) {
      forget(frame.sourceAlias());
    }
  }

  private void forget(int alias) {
    datagrams.forget(alias);
    information.forget(alias, nowNs);
    longMessages.forget(alias);
  }

  /** A new alias does not make a node start over: it stays Initialized (S-9.7.3 §3.2). */
  private void beginToSpeak() {
    if (!initialized) {
      initialize();
    }
    application.ready(nowNs);
    settle();
  }

  private void initialize() {
    voice.say(new InitializationComplete(alias(), id, false));
    initialized = true;
    announcements.oweAllEvents();
    sayAtPace();
  }

  private void initializeAgain() {
    toAnnounceAgain = false;
    askForEvents();
    initialize();
  }

  /** Every frame of the node passes here, so that the pace knows of all of them. */
  private void transmit(CanFrame frame) {
    pace.note(nowNs);
    send.accept(frame);
  }

  /** Sends, and remembers what this node itself will have to hear. Only while Permitted. */
  private void say(CanFrame frame) {
    transmit(frame);
    if (concerns(frame)) {
      unheard.add(frame);
    }
  }

  private void sayAtPace() {
    while (sayNext()) {
      // until the pace or the supply ends
    }
  }

  private boolean sayNext() {
    if (!ready() || announcements.isEmpty() || !pace.allows(nowNs)) {
      return false;
    }
    announcements.next(alias()).ifPresent(voice::say);
    return true;
  }

  /** What happens while the node starts anew has happened all the same. */
  private boolean hears(CanFrame frame) {
    return (initialized || Header.carriesEvent(frame)) && concerns(frame);
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

  /** One message after the other, even if hearing one leads to the next; always true. */
  private boolean settle() {
    if (settling) {
      return true;
    }
    settling = true;
    try {
      while (hearNext() || sayNext()) {
        // until there is nothing left to do at this moment
      }
    } finally {
      settling = false;
    }
    return true;
  }

  private boolean hearNext() {
    CanFrame frame = unheard.poll();
    if (frame != null) {
      hear(frame);
    } else if (toAnnounceAgain && ready()) {
      initializeAgain();
    } else {
      return false;
    }
    return true;
  }

  private void hear(CanFrame frame) {
    if (Header.isDatagram(frame) && datagrams.isServed()) {
      hearDatagram(frame);
    } else if (Header.hasMti(frame) && Header.mti(frame) == Mti.SIMPLE_NODE_INFORMATION_REPLY) {
      hearInformation(frame);
    } else {
      hear(Messages.decode(frame));
    }
  }

  private void hearDatagram(CanFrame frame) {
    if (link.permitted() && frame.sourceAlias() != 0) {
      datagrams.receive(frame, nowNs);
    }
  }

  private void hearInformation(CanFrame frame) {
    longMessages
        .receive(frame, nowNs)
        .ifPresent(content -> information.reply(frame.sourceAlias(), content, nowNs));
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
      hearNodeId(verified.node(), verified.source());
    } else if (message instanceof InitializationComplete complete) {
      hearStart(complete);
    } else if (link.permitted()) {
      hearForNode(message);
    }
  }

  private void hearForNode(Message message) {
    if (message instanceof DatagramReceivedOk answer) {
      datagrams.receivedOk(answer, nowNs);
    } else if (message instanceof DatagramRejected answer) {
      datagrams.rejected(answer.source(), answer.errorCode(), nowNs);
    } else if (message instanceof OptionalInteractionRejected rejected) {
      hearRejection(rejected);
    } else if (message instanceof TerminateDueToError terminated) {
      forget(terminated.source());
    } else {
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
      announcements.oweAllEvents();
    } else if (message instanceof VerifyNodeIdGlobal enquiry) {
      answerVerify(enquiry);
    } else if (message instanceof VerifyNodeIdAddressed) {
      announcements.oweNodeId();
    } else if (message instanceof ProtocolSupportInquiry inquiry) {
      answerProtocolSupport(inquiry);
    } else if (message instanceof SimpleNodeInformationRequest request) {
      answerInformation(request);
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

  /** A node that starts anew has forgotten what was going on (TN-9.7.3.2 §2.7.3.1). */
  private void hearStart(InitializationComplete complete) {
    if (complete.source() != alias()) {
      forget(complete.source());
    }
    hearNodeId(complete.node(), complete.source());
  }

  private void hearNodeId(NodeId node, int source) {
    if (source == alias()) {
      return;
    }
    if (node.equals(id)) {
      hearOwnId(source);
    } else {
      link.others().learn(source, node.value());
    }
  }

  private void hearOwnId(int source) {
    if (link.hearOwnId(source, nowNs)) {
      breakOff();
    }
  }

  /** Shortened content reads as zeros and so names no message: whatever is open then ends. */
  private void hearRejection(OptionalInteractionRejected rejected) {
    int mti = rejected.rejectedMti();
    if (mti == 0 || (mti & Mti.CAN_MASK) == (Mti.DATAGRAM & Mti.CAN_MASK)) {
      datagrams.rejected(rejected.source(), rejected.errorCode(), nowNs);
    }
    if (mti == 0 || mti == Mti.SIMPLE_NODE_INFORMATION_REQUEST) {
      information.giveUp(rejected.source(), nowNs);
    }
  }

  private void answerAsProducer(IdentifyProducer enquiry) {
    if (produced.contains(enquiry.event())) {
      announcements.oweProducer(enquiry.event());
    }
  }

  private void answerAsConsumer(IdentifyConsumer enquiry) {
    if (consumed.contains(enquiry.event())) {
      announcements.oweConsumer(enquiry.event());
    }
  }

  private void answerVerify(VerifyNodeIdGlobal enquiry) {
    if (enquiry.node().isEmpty() || enquiry.node().get().equals(id)) {
      announcements.oweNodeId();
    }
  }

  private void answerProtocolSupport(ProtocolSupportInquiry inquiry) {
    voice.say(new ProtocolSupportReply(alias(), inquiry.source(), protocols()));
  }

  /** Only what this node has been given to do. */
  private int protocols() {
    int datagram = datagrams.isServed() ? ProtocolSupportReply.DATAGRAM : 0;
    int identity =
        application.identity().isPresent() ? ProtocolSupportReply.SIMPLE_NODE_INFORMATION : 0;
    return ProtocolSupportReply.EVENT_EXCHANGE | datagram | identity | datagrams.protocols();
  }

  private void answerInformation(SimpleNodeInformationRequest request) {
    if (application.identity().isPresent()) {
      information.request(request.source(), nowNs);
    } else {
      reject(request.encode());
    }
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
    voice.say(
        new OptionalInteractionRejected(
            alias(), frame.sourceAlias(), ErrorCode.MTI_UNKNOWN, Header.commonMti(frame)));
  }

  private static boolean isReply(CanFrame frame) {
    int mti = Header.commonMti(frame);
    return mti == Mti.DATAGRAM_RECEIVED_OK || mti == Mti.DATAGRAM_REJECTED;
  }
}
