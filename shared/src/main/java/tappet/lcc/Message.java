package tappet.lcc;

import java.util.Optional;

/**
 * What a frame says: one record a kind, each able to write its frame. {@link Messages#decode} reads
 * them. Aliases are 1 to {@code 0xFFF}; an instance can be sent.
 */
public sealed interface Message {

  /** The alias of the sender; 0 only where an {@link Unrecognised} frame had none. */
  int source();

  /** The frame that says this; for a message of several frames, the first. */
  CanFrame encode();

  /** The message in a few words for people, such as {@code event report 02.01.… from 458}. */
  String describe();

  /** A message for one node. */
  sealed interface Addressed extends Message {

    /** The alias of the node it is for. */
    int destination();
  }

  // Control frames: they reserve and map aliases and never leave their segment (S-9.7.2.1 §6.1).

  /**
   * Asks whether anybody uses an alias (S-9.7.2.1 §6.2.1).
   *
   * @param sequence 7 to 4 for LCC nodes, 3 to 1 for other protocols
   * @param nodeIdPart 12 bits of the node id; 47 to 36 with sequence 7, 11 to 0 with sequence 4
   * @param source the alias asked for
   */
  record CheckId(int sequence, int nodeIdPart, int source) implements Message {

    public CheckId {
      if (sequence < 1 || sequence > 7) {
        throw new IllegalArgumentException("sequence " + sequence + ", expected 1 to 7");
      }
      if (nodeIdPart < 0 || nodeIdPart > 0xFFF) {
        throw new IllegalArgumentException(
            "node id part 0x%X, expected 12 bits".formatted(nodeIdPart));
      }
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.control((sequence << 12) | nodeIdPart, source);
    }

    @Override
    public String describe() {
      return "check id %d, part %03X, for alias %03X".formatted(sequence, nodeIdPart, source);
    }
  }

  /** Takes an alias, or defends one against a {@link CheckId} (S-9.7.2.1 §6.2.1, §6.2.5). */
  record ReserveId(int source) implements Message {

    public ReserveId {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.control(Mti.RESERVE_ID, source);
    }

    @Override
    public String describe() {
      return "reserve id for alias %03X".formatted(source);
    }
  }

  /** Tells which node an alias stands for (S-9.7.2.1 §6.2.2). */
  record AliasMapDefinition(int source, NodeId node) implements Message {

    public AliasMapDefinition {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.control(Mti.ALIAS_MAP_DEFINITION, source, node);
    }

    @Override
    public String describe() {
      return "alias %03X is %s".formatted(source, node);
    }
  }

  /**
   * Asks for the alias of a node, or for all (S-9.7.2.1 §6.2.3).
   *
   * @param node the node asked for, in all its six bytes; empty: every node answers
   */
  record AliasMapEnquiry(int source, Optional<NodeId> node) implements Message {

    public AliasMapEnquiry {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return node.map(id -> Messages.control(Mti.ALIAS_MAP_ENQUIRY, source, id))
          .orElseGet(() -> Messages.control(Mti.ALIAS_MAP_ENQUIRY, source));
    }

    @Override
    public String describe() {
      String whom = node.map(NodeId::toString).orElse("all nodes");
      return "alias enquiry for %s from %03X".formatted(whom, source);
    }
  }

  /** Gives an alias up (S-9.7.2.1 §6.2.4). */
  record AliasMapReset(int source, NodeId node) implements Message {

    public AliasMapReset {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.control(Mti.ALIAS_MAP_RESET, source, node);
    }

    @Override
    public String describe() {
      return "alias %03X is given up by %s".formatted(source, node);
    }
  }

  // The message network (S-9.7.3 §3.3).

  /**
   * The first message of a node (S-9.7.3 §3.3.1).
   *
   * @param simple whether the simple set of messages is all the node needs
   */
  record InitializationComplete(int source, NodeId node, boolean simple) implements Message {

    public InitializationComplete {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      int mti = simple ? Mti.INITIALIZATION_COMPLETE_SIMPLE : Mti.INITIALIZATION_COMPLETE;
      return Messages.global(mti, source, node);
    }

    @Override
    public String describe() {
      return "initialization complete%s, %s from %03X"
          .formatted(simple ? " (simple)" : "", node, source);
    }
  }

  /**
   * Asks all nodes, or the one named, to tell their node id (S-9.7.3 §3.3.2).
   *
   * @param node the only node to answer; empty: every node answers
   */
  record VerifyNodeIdGlobal(int source, Optional<NodeId> node) implements Message {

    public VerifyNodeIdGlobal {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return node.map(id -> Messages.global(Mti.VERIFY_NODE_ID_GLOBAL, source, id))
          .orElseGet(() -> Messages.global(Mti.VERIFY_NODE_ID_GLOBAL, source));
    }

    @Override
    public String describe() {
      String whom = node.map(NodeId::toString).orElse("of all nodes");
      return "verify node id %s from %03X".formatted(whom, source);
    }
  }

  /**
   * Asks one node to tell its node id (S-9.7.3 §3.3.2).
   *
   * @param node what the asker believes the id to be; the answer does not depend on it
   */
  record VerifyNodeIdAddressed(int source, int destination, Optional<NodeId> node)
      implements Addressed {

    public VerifyNodeIdAddressed {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
    }

    @Override
    public CanFrame encode() {
      int length = node.isPresent() ? 6 : 0;
      long content = node.map(NodeId::value).orElse(0L);
      return Messages.addressed(Mti.VERIFY_NODE_ID_ADDRESSED, source, destination, length, content);
    }

    @Override
    public String describe() {
      return "verify node id of %03X from %03X".formatted(destination, source);
    }
  }

  /** Tells the node id of the sender (S-9.7.3 §3.3.3). */
  record VerifiedNodeId(int source, NodeId node, boolean simple) implements Message {

    public VerifiedNodeId {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      int mti = simple ? Mti.VERIFIED_NODE_ID_SIMPLE : Mti.VERIFIED_NODE_ID;
      return Messages.global(mti, source, node);
    }

    @Override
    public String describe() {
      return "verified node id%s, %s from %03X".formatted(simple ? " (simple)" : "", node, source);
    }
  }

  /**
   * Declines a message of a kind the sender takes no part in (S-9.7.3 §3.3.4). Shortened content
   * reads as zeros.
   *
   * @param errorCode 16 bits (S-9.7.3 §3.5.5)
   * @param rejectedMti the 16-bit MTI of the message declined
   */
  record OptionalInteractionRejected(int source, int destination, int errorCode, int rejectedMti)
      implements Addressed {

    public OptionalInteractionRejected {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
      Messages.requireError(errorCode, rejectedMti);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(
          Mti.OPTIONAL_INTERACTION_REJECTED,
          source,
          destination,
          4,
          Messages.error(errorCode, rejectedMti));
    }

    @Override
    public String describe() {
      return "interaction %04X rejected with error %04X, from %03X to %03X"
          .formatted(rejectedMti, errorCode, source, destination);
    }
  }

  /**
   * Ends an interaction that went wrong (S-9.7.3 §3.3.5). Shortened content reads as zeros.
   *
   * @param errorCode 16 bits (S-9.7.3 §3.5.5)
   * @param lastMti the 16-bit MTI of the last message of the interaction
   */
  record TerminateDueToError(int source, int destination, int errorCode, int lastMti)
      implements Addressed {

    public TerminateDueToError {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
      Messages.requireError(errorCode, lastMti);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(
          Mti.TERMINATE_DUE_TO_ERROR, source, destination, 4, Messages.error(errorCode, lastMti));
    }

    @Override
    public String describe() {
      return "interaction %04X terminated by error %04X, from %03X to %03X"
          .formatted(lastMti, errorCode, source, destination);
    }
  }

  /** Asks a node which protocols it takes part in (S-9.7.3 §3.3.6). */
  record ProtocolSupportInquiry(int source, int destination) implements Addressed {

    public ProtocolSupportInquiry {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.PROTOCOL_SUPPORT_INQUIRY, source, destination, 0, 0);
    }

    @Override
    public String describe() {
      return "protocol support inquiry from %03X to %03X".formatted(source, destination);
    }
  }

  /**
   * Tells which protocols the sender takes part in (S-9.7.3 §3.3.7).
   *
   * @param protocols 24 flags, as the standard prints them; absent bytes read as zero and bytes
   *     beyond the third are reserved
   */
  record ProtocolSupportReply(int source, int destination, int protocols) implements Addressed {

    /** The flag of datagrams (S-9.7.3.2). */
    public static final int DATAGRAM = 0x40_0000;

    /** The flag of memory configuration (S-9.7.4.2). */
    public static final int MEMORY_CONFIGURATION = 0x10_0000;

    /** The flag of event exchange: producing and consuming. */
    public static final int EVENT_EXCHANGE = 0x04_0000;

    /** The flag of the abbreviated default description, spaces 0xFC and 0xFB (S-9.7.4.1). */
    public static final int ABBREVIATED_DESCRIPTION = 0x00_4000;

    /** The flag of simple node information (S-9.7.4.3). */
    public static final int SIMPLE_NODE_INFORMATION = 0x00_1000;

    /** The flag of the configuration description, space 0xFF (S-9.7.4.1). */
    public static final int CONFIGURATION_DESCRIPTION = 0x00_0800;

    public ProtocolSupportReply {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
      if (protocols < 0 || protocols > 0xFF_FFFF) {
        throw new IllegalArgumentException("protocols 0x%X, expected 24 bits".formatted(protocols));
      }
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.PROTOCOL_SUPPORT_REPLY, source, destination, 3, protocols);
    }

    @Override
    public String describe() {
      return "protocol support %06X from %03X to %03X".formatted(protocols, source, destination);
    }
  }

  // Event transport (S-9.7.3.1 §4).

  /**
   * Tells that an event has happened (S-9.7.3.1 §4.1).
   *
   * @param payloadFollows whether this is the first frame of a report with payload; a consumer with
   *     no interest in the payload acts on the event all the same (TN-9.7.3.1 §2.7)
   */
  record EventReport(int source, EventId event, boolean payloadFollows) implements Message {

    public EventReport {
      Messages.requireAlias(source);
    }

    /** A plain report. */
    public EventReport(int source, EventId event) {
      this(source, event, false);
    }

    @Override
    public CanFrame encode() {
      int mti = payloadFollows ? Mti.EVENT_REPORT_WITH_PAYLOAD : Mti.EVENT_REPORT;
      return Messages.global(mti, source, event);
    }

    @Override
    public String describe() {
      return "event report %s%s from %03X"
          .formatted(event, payloadFollows ? " with payload" : "", source);
    }
  }

  /** Asks the producers of an event for its state (S-9.7.3.1 §4.5). */
  record IdentifyProducer(int source, EventId event) implements Message {

    public IdentifyProducer {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.IDENTIFY_PRODUCER, source, event);
    }

    @Override
    public String describe() {
      return "identify producer of %s from %03X".formatted(event, source);
    }
  }

  /** Asks the consumers of an event for its state (S-9.7.3.1 §4.2). */
  record IdentifyConsumer(int source, EventId event) implements Message {

    public IdentifyConsumer {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.IDENTIFY_CONSUMER, source, event);
    }

    @Override
    public String describe() {
      return "identify consumer of %s from %03X".formatted(event, source);
    }
  }

  /** Tells that the sender may report an event, and its state; no report of it (S-9.7.3.1 §4.6). */
  record ProducerIdentified(int source, EventId event, Validity validity) implements Message {

    public ProducerIdentified {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.PRODUCER_IDENTIFIED | validity.modifier(), source, event);
    }

    @Override
    public String describe() {
      return "producer of %s identified, %s, from %03X".formatted(event, validity.word(), source);
    }
  }

  /** Tells that the sender acts on an event, and its state; no report of it (S-9.7.3.1 §4.3). */
  record ConsumerIdentified(int source, EventId event, Validity validity) implements Message {

    public ConsumerIdentified {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.CONSUMER_IDENTIFIED | validity.modifier(), source, event);
    }

    @Override
    public String describe() {
      return "consumer of %s identified, %s, from %03X".formatted(event, validity.word(), source);
    }
  }

  /**
   * Tells that the sender may report any event of a range, with no word on their states (S-9.7.3.1
   * §4.7).
   */
  record ProducerRangeIdentified(int source, EventRange range) implements Message {

    public ProducerRangeIdentified {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.PRODUCER_RANGE_IDENTIFIED, source, range.encode());
    }

    @Override
    public String describe() {
      return "producer of %s identified, from %03X".formatted(range, source);
    }
  }

  /**
   * Tells that the sender acts on any event of a range, with no word on their states (S-9.7.3.1
   * §4.4).
   */
  record ConsumerRangeIdentified(int source, EventRange range) implements Message {

    public ConsumerRangeIdentified {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.CONSUMER_RANGE_IDENTIFIED, source, range.encode());
    }

    @Override
    public String describe() {
      return "consumer of %s identified, from %03X".formatted(range, source);
    }
  }

  /** Asks all nodes for all their events (S-9.7.3.1 §4.8). */
  record IdentifyEventsGlobal(int source) implements Message {

    public IdentifyEventsGlobal {
      Messages.requireAlias(source);
    }

    @Override
    public CanFrame encode() {
      return Messages.global(Mti.IDENTIFY_EVENTS_GLOBAL, source);
    }

    @Override
    public String describe() {
      return "identify events of all nodes from %03X".formatted(source);
    }
  }

  /** Asks one node for all its events (S-9.7.3.1 §4.8). */
  record IdentifyEventsAddressed(int source, int destination) implements Addressed {

    public IdentifyEventsAddressed {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.IDENTIFY_EVENTS_ADDRESSED, source, destination, 0, 0);
    }

    @Override
    public String describe() {
      return "identify events of %03X from %03X".formatted(destination, source);
    }
  }

  // Simple node information (S-9.7.4.3 §4) and the answers to datagrams (S-9.7.3.2 §4).

  /** Asks a node for its names and versions (S-9.7.4.3 §4.1). */
  record SimpleNodeInformationRequest(int source, int destination) implements Addressed {

    public SimpleNodeInformationRequest {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.SIMPLE_NODE_INFORMATION_REQUEST, source, destination, 0, 0);
    }

    @Override
    public String describe() {
      return "simple node information request from %03X to %03X".formatted(source, destination);
    }
  }

  /**
   * Tells that a datagram has arrived (S-9.7.3.2 §4.2).
   *
   * @param flags 8 bits: 0x80 a reply will follow, the low four the binary logarithm of the seconds
   *     within which it comes, 0 for no word on that; a missing byte reads as zero
   */
  record DatagramReceivedOk(int source, int destination, int flags) implements Addressed {

    /** The flag that says that a reply will follow. */
    public static final int REPLY_PENDING = 0x80;

    public DatagramReceivedOk {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
      if (flags < 0 || flags > 0xFF) {
        throw new IllegalArgumentException("flags 0x%X, expected 8 bits".formatted(flags));
      }
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.DATAGRAM_RECEIVED_OK, source, destination, 1, flags);
    }

    @Override
    public String describe() {
      return "datagram received, flags %02X, from %03X to %03X"
          .formatted(flags, source, destination);
    }
  }

  /**
   * Tells that a datagram was not taken (S-9.7.3.2 §4.3).
   *
   * @param errorCode 16 bits (S-9.7.3 §3.5.5); missing ones read as zero
   */
  record DatagramRejected(int source, int destination, int errorCode) implements Addressed {

    public DatagramRejected {
      Messages.requireAlias(source);
      Messages.requireAlias(destination);
      Messages.requireError(errorCode, 0);
    }

    @Override
    public CanFrame encode() {
      return Messages.addressed(Mti.DATAGRAM_REJECTED, source, destination, 2, errorCode);
    }

    @Override
    public String describe() {
      return "datagram rejected with error %04X, from %03X to %03X"
          .formatted(errorCode, source, destination);
    }
  }

  /**
   * Anything else: kinds not in this vocabulary, content too short or of a length that nobody
   * answers, the later frames of a message of several, a sender without alias.
   */
  record Unrecognised(CanFrame frame) implements Message {

    @Override
    public int source() {
      return frame.sourceAlias();
    }

    @Override
    public CanFrame encode() {
      return frame;
    }

    @Override
    public String describe() {
      return "frame %s from %03X".formatted(FrameText.encode(frame), source());
    }
  }
}
