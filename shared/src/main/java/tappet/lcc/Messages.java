package tappet.lcc;

import java.util.Optional;
import java.util.function.Function;
import tappet.lcc.Message.AliasMapDefinition;
import tappet.lcc.Message.AliasMapEnquiry;
import tappet.lcc.Message.AliasMapReset;
import tappet.lcc.Message.CheckId;
import tappet.lcc.Message.ConsumerIdentified;
import tappet.lcc.Message.ConsumerRangeIdentified;
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
import tappet.lcc.Message.ProducerRangeIdentified;
import tappet.lcc.Message.ProtocolSupportInquiry;
import tappet.lcc.Message.ProtocolSupportReply;
import tappet.lcc.Message.ReserveId;
import tappet.lcc.Message.SimpleNodeInformationRequest;
import tappet.lcc.Message.TerminateDueToError;
import tappet.lcc.Message.Unrecognised;
import tappet.lcc.Message.VerifiedNodeId;
import tappet.lcc.Message.VerifyNodeIdAddressed;
import tappet.lcc.Message.VerifyNodeIdGlobal;

/** Reads what a frame says (S-9.7.2.1 §6.1, S-9.7.3 §7, S-9.7.3.1 §7). */
public final class Messages {

  private static final int NODE_ID_BYTES = 6;
  private static final int EVENT_ID_BYTES = 8;
  private static final long NODE_ID_MASK = 0xFFFF_FFFF_FFFFL;
  private static final int MODIFIER_MASK = 0x3;

  private Messages() {}

  /**
   * What {@code frame} says. Never fails: what is not understood is {@link Unrecognised}. Content
   * beyond the known part of a message is ignored (S-9.7.3 §7.3.4); of a message of several frames,
   * the first one tells all that is known here.
   */
  public static Message decode(CanFrame frame) {
    return understood(frame).orElseGet(() -> new Unrecognised(frame));
  }

  private static Optional<Message> understood(CanFrame frame) {
    if (frame.sourceAlias() == 0) {
      return Optional.empty();
    }
    if (!Header.isMessage(frame)) {
      return controlFrame(frame);
    }
    if (Header.carriesEvent(frame)) {
      return eventMessage(frame);
    }
    if (Header.isAddressed(frame)) {
      return addressedMessage(frame);
    }
    return Header.hasMti(frame) ? globalMessage(frame) : Optional.empty();
  }

  private static Optional<Message> controlFrame(CanFrame frame) {
    int source = frame.sourceAlias();
    int content = Header.control(frame);
    if (content >= Mti.CHECK_ID_MIN) {
      return Optional.of(new CheckId(content >>> 12, content & 0xFFF, source));
    }
    return switch (content) {
      case Mti.RESERVE_ID -> Optional.of(new ReserveId(source));
      case Mti.ALIAS_MAP_DEFINITION ->
          wholeNodeId(frame).map(node -> new AliasMapDefinition(source, node));
      case Mti.ALIAS_MAP_ENQUIRY ->
          withOptionalNodeId(frame, wholeNodeId(frame), node -> new AliasMapEnquiry(source, node));
      case Mti.ALIAS_MAP_RESET -> wholeNodeId(frame).map(node -> new AliasMapReset(source, node));
      default -> Optional.empty();
    };
  }

  private static Optional<Message> globalMessage(CanFrame frame) {
    int source = frame.sourceAlias();
    return switch (Header.mti(frame)) {
      case Mti.INITIALIZATION_COMPLETE ->
          nodeId(frame).map(node -> new InitializationComplete(source, node, false));
      case Mti.INITIALIZATION_COMPLETE_SIMPLE ->
          nodeId(frame).map(node -> new InitializationComplete(source, node, true));
      case Mti.VERIFIED_NODE_ID ->
          nodeId(frame).map(node -> new VerifiedNodeId(source, node, false));
      case Mti.VERIFIED_NODE_ID_SIMPLE ->
          nodeId(frame).map(node -> new VerifiedNodeId(source, node, true));
      case Mti.VERIFY_NODE_ID_GLOBAL ->
          withOptionalNodeId(frame, nodeId(frame), node -> new VerifyNodeIdGlobal(source, node));
      case Mti.IDENTIFY_EVENTS_GLOBAL -> Optional.of(new IdentifyEventsGlobal(source));
      default -> Optional.empty();
    };
  }

  private static Optional<Message> addressedMessage(CanFrame frame) {
    int source = frame.sourceAlias();
    int destination = Header.destination(frame);
    if (destination == 0 || !Header.beginsMessage(frame)) {
      return Optional.empty();
    }
    long content = frame.data() & NODE_ID_MASK;
    int errorCode = (int) (content >>> 32);
    int mti = (int) (content >>> 16) & 0xFFFF;
    return switch (Header.mti(frame)) {
      case Mti.VERIFY_NODE_ID_ADDRESSED ->
          Optional.of(new VerifyNodeIdAddressed(source, destination, believedNodeId(frame)));
      case Mti.OPTIONAL_INTERACTION_REJECTED ->
          Optional.of(new OptionalInteractionRejected(source, destination, errorCode, mti));
      case Mti.TERMINATE_DUE_TO_ERROR ->
          Optional.of(new TerminateDueToError(source, destination, errorCode, mti));
      case Mti.PROTOCOL_SUPPORT_INQUIRY ->
          Optional.of(new ProtocolSupportInquiry(source, destination));
      case Mti.PROTOCOL_SUPPORT_REPLY ->
          Optional.of(new ProtocolSupportReply(source, destination, (int) (content >>> 24)));
      case Mti.IDENTIFY_EVENTS_ADDRESSED ->
          Optional.of(new IdentifyEventsAddressed(source, destination));
      case Mti.SIMPLE_NODE_INFORMATION_REQUEST ->
          Optional.of(new SimpleNodeInformationRequest(source, destination));
      case Mti.DATAGRAM_RECEIVED_OK ->
          Optional.of(new DatagramReceivedOk(source, destination, (int) (content >>> 40)));
      case Mti.DATAGRAM_REJECTED ->
          Optional.of(new DatagramRejected(source, destination, errorCode));
      default -> Optional.empty();
    };
  }

  private static Optional<Message> eventMessage(CanFrame frame) {
    if (frame.length() < EVENT_ID_BYTES) {
      return Optional.empty();
    }
    int source = frame.sourceAlias();
    int mti = Header.mti(frame);
    EventId event = new EventId(frame.data());
    return switch (mti) {
      case Mti.EVENT_REPORT -> Optional.of(new EventReport(source, event));
      case Mti.EVENT_REPORT_WITH_PAYLOAD -> Optional.of(new EventReport(source, event, true));
      case Mti.IDENTIFY_PRODUCER -> Optional.of(new IdentifyProducer(source, event));
      case Mti.IDENTIFY_CONSUMER -> Optional.of(new IdentifyConsumer(source, event));
      case Mti.PRODUCER_RANGE_IDENTIFIED ->
          Optional.of(new ProducerRangeIdentified(source, EventRange.decode(event)));
      case Mti.CONSUMER_RANGE_IDENTIFIED ->
          Optional.of(new ConsumerRangeIdentified(source, EventRange.decode(event)));
      default -> identified(mti, source, event);
    };
  }

  private static Optional<Message> identified(int mti, int source, EventId event) {
    Optional<Validity> validity = Validity.ofModifier(mti & MODIFIER_MASK);
    return switch (mti & ~MODIFIER_MASK) {
      case Mti.PRODUCER_IDENTIFIED ->
          validity.map(known -> new ProducerIdentified(source, event, known));
      case Mti.CONSUMER_IDENTIFIED ->
          validity.map(known -> new ConsumerIdentified(source, event, known));
      default -> Optional.empty();
    };
  }

  /** A control frame's node id counts only if nothing is missing and nothing too much. */
  private static Optional<NodeId> wholeNodeId(CanFrame frame) {
    return frame.length() == NODE_ID_BYTES ? nodeId(frame) : Optional.empty();
  }

  private static Optional<NodeId> nodeId(CanFrame frame) {
    return frame.length() >= NODE_ID_BYTES
        ? Optional.of(new NodeId(frame.data() >>> 16))
        : Optional.empty();
  }

  private static Optional<NodeId> believedNodeId(CanFrame frame) {
    return frame.length() == CanFrame.LENGTH_MAX
        ? Optional.of(new NodeId(frame.data() & NODE_ID_MASK))
        : Optional.empty();
  }

  /** A node id that is there but of a wrong length makes a message for nobody. */
  private static Optional<Message> withOptionalNodeId(
      CanFrame frame, Optional<NodeId> node, Function<Optional<NodeId>, Message> message) {
    boolean understood = frame.length() == 0 || node.isPresent();
    return understood ? Optional.of(message.apply(node)) : Optional.empty();
  }

  static CanFrame control(int content, int source) {
    return CanFrame.empty(Header.ofControl(content, source));
  }

  static CanFrame control(int content, int source, NodeId node) {
    return CanFrame.of(Header.ofControl(content, source), NODE_ID_BYTES, node.value());
  }

  static CanFrame global(int mti, int source) {
    return CanFrame.empty(Header.ofMessage(mti, source));
  }

  static CanFrame global(int mti, int source, NodeId node) {
    return CanFrame.of(Header.ofMessage(mti, source), NODE_ID_BYTES, node.value());
  }

  static CanFrame global(int mti, int source, EventId event) {
    return CanFrame.of(Header.ofMessage(mti, source), EVENT_ID_BYTES, event.value());
  }

  /** An addressed message in one frame; {@code length} bytes of content, 0 to 6. */
  static CanFrame addressed(int mti, int source, int destination, int length, long content) {
    long data = ((long) destination << (8 * length)) | content;
    return CanFrame.of(Header.ofMessage(mti, source), 2 + length, data);
  }

  static long error(int errorCode, int mti) {
    return ((long) errorCode << 16) | mti;
  }

  static void requireAlias(int alias) {
    if (alias < 1 || alias > Header.ALIAS_MAX) {
      throw new IllegalArgumentException("alias 0x%X, expected 1 to 0xFFF".formatted(alias));
    }
  }

  static void requireError(int errorCode, int mti) {
    if (errorCode < 0 || errorCode > 0xFFFF || mti < 0 || mti > 0xFFFF) {
      throw new IllegalArgumentException(
          "error 0x%X for MTI 0x%X, expected 16 bits each".formatted(errorCode, mti));
    }
  }
}
