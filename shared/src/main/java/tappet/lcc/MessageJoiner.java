package tappet.lcc;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.IntPredicate;

/**
 * Puts the messages of a CAN segment together that are for all, or for one of the nodes served
 * here: whole, in the order in which they end (S-9.7.3 §7.3.7, S-9.7.3.1 §7, S-9.7.3.2 §7). What
 * comes out of order, too long or too late is dropped; a datagram is refused.
 */
public final class MessageJoiner {

  static final int PAYLOADS_MAX = 16;

  private static final int EVENT_BYTES = 8;

  private final IntPredicate isServed;
  private final Consumer<AliasMessage> whole;
  private final Consumer<AliasMessage> refusals;
  private final AddressedReceiver addressed = new AddressedReceiver();
  private final Map<Integer, Bytes> payloads = new LinkedHashMap<>();
  private final Map<Integer, DatagramReceiver> datagrams = new TreeMap<>();

  /**
   * @param isServed whether an alias is one of the nodes served here
   * @param whole takes each message
   * @param refusals takes what is to be sent to those whose datagrams were broken
   */
  public MessageJoiner(
      IntPredicate isServed, Consumer<AliasMessage> whole, Consumer<AliasMessage> refusals) {
    this.isServed = isServed;
    this.whole = whole;
    this.refusals = refusals;
  }

  /** Whether a frame is a message or part of one, so that it may have to be joined. */
  public static boolean isOfMessage(CanFrame frame) {
    return Header.isMessage(frame);
  }

  /** Takes any frame. */
  public void receive(CanFrame frame, long nowNs) {
    if (Header.isMessage(frame) && frame.sourceAlias() != 0) {
      int destination = Header.destination(frame);
      if (destination != 0) {
        receiveAddressed(frame, destination, nowNs);
      } else if (Header.hasMti(frame) && !Header.isAddressed(frame)) {
        receiveGlobal(frame);
      }
    }
  }

  /** A node is not served here any more, or its alias has another sender. */
  public void forget(int alias) {
    addressed.forget(alias);
    payloads.remove(alias);
    datagrams.remove(alias);
    datagrams.values().forEach(receiver -> receiver.forget(alias));
  }

  private void receiveGlobal(CanFrame frame) {
    int source = frame.sourceAlias();
    Bytes data = Bytes.ofNumber(frame.dataValue(), frame.length());
    switch (Header.mti(frame)) {
      case Mti.EVENT_REPORT_WITH_PAYLOAD -> beginPayload(source, data);
      case Mti.PAYLOAD_GOES_ON ->
          payloads.computeIfPresent(source, (alias, so) -> longer(so, data));
      case Mti.PAYLOAD_ENDS -> endPayload(source, data);
      default -> whole.accept(new AliasMessage(Header.mti(frame), source, 0, data));
    }
  }

  private void beginPayload(int source, Bytes event) {
    payloads.remove(source);
    if (payloads.size() == PAYLOADS_MAX) {
      payloads.remove(payloads.keySet().iterator().next());
    }
    if (event.length() == EVENT_BYTES) {
      payloads.put(source, event);
    }
  }

  /** Null, and so forgotten, once it is too long. */
  private static Bytes longer(Bytes soFar, Bytes more) {
    Bytes all = soFar.and(more);
    return all.length() > EVENT_BYTES + AliasMessage.PAYLOAD_MAX ? null : all;
  }

  private void endPayload(int source, Bytes last) {
    Bytes soFar = payloads.remove(source);
    Bytes all = soFar == null || last.length() == 0 ? null : longer(soFar, last);
    if (all != null) {
      whole.accept(new AliasMessage(AliasMessage.REPORT_WITH_PAYLOAD, source, 0, all));
    }
  }

  private void receiveAddressed(CanFrame frame, int destination, long nowNs) {
    if (!isServed.test(destination)) {
      return;
    }
    if (Header.isDatagram(frame)) {
      datagrams
          .computeIfAbsent(destination, alias -> new DatagramReceiver(new Datagrams(alias)))
          .receive(frame, nowNs);
    } else if (Header.hasMti(frame)) {
      addressed
          .receive(frame, nowNs)
          .ifPresent(content -> tell(Header.mti(frame), frame.sourceAlias(), destination, content));
    } else {
      Bytes data = Bytes.ofNumber(frame.dataValue(), frame.length());
      tell(Mti.STREAM_DATA, frame.sourceAlias(), destination, data);
    }
  }

  private void tell(int mti, int source, int destination, Bytes content) {
    whole.accept(new AliasMessage(mti, source, destination, content));
  }

  /** The datagrams for one node. */
  private final class Datagrams implements DatagramReceiver.Handler {

    private final int served;

    Datagrams(int served) {
      this.served = served;
    }

    @Override
    public void whole(int source, Bytes content) {
      tell(Mti.DATAGRAM, source, served, content);
    }

    @Override
    public void broken(int source, int errorCode) {
      refusals.accept(
          new AliasMessage(Mti.DATAGRAM_REJECTED, served, source, Bytes.ofNumber(errorCode, 2)));
    }
  }
}
