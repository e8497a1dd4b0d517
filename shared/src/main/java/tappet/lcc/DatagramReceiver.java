package tappet.lcc;

import java.util.Map;
import java.util.TreeMap;

/**
 * Puts datagrams together, for each sender on its own (S-9.7.3.2 §7).
 *
 * <pre>
 *                 nothing begun        begun                     spoilt
 *   only          whole                2042, whole               whole
 *   first         begun                2042, begun               begun
 *   middle        2041, spoilt         begun; spoilt if too long spoilt
 *   last          2041                 whole                     nothing begun
 * </pre>
 *
 * <p>A spoilt datagram has been refused once and the rest of it is passed over, so that each gets
 * one answer. At most {@value #SENDERS_MAX} are put together at a time; further ones are refused
 * until there is room. One that is not finished within 3 s makes room when others need it.
 */
final class DatagramReceiver {

  static final int LENGTH_MAX = 72;
  static final int SENDERS_MAX = 64;
  private static final long ABANDONED_NS = 3_000_000_000L;

  private final Handler handler;
  private final Map<Integer, Partial> partials = new TreeMap<>();

  /** What hears of each datagram, once. */
  interface Handler {

    void whole(int source, Bytes content);

    void broken(int source, int errorCode);
  }

  private static final class Partial {
    private final byte[] content = new byte[LENGTH_MAX];
    private final long begunNs;
    private int length;
    private boolean spoilt;

    Partial(long begunNs) {
      this.begunNs = begunNs;
    }

    /** False if there is more than a datagram can hold. */
    boolean add(CanFrame frame) {
      if (length + frame.length() > LENGTH_MAX) {
        return false;
      }
      for (int index = 0; index < frame.length(); index++) {
        content[length++] = (byte) frame.dataByte(index);
      }
      return true;
    }

    Bytes whole() {
      return Bytes.copyOf(content, 0, length);
    }
  }

  DatagramReceiver(Handler handler) {
    this.handler = handler;
  }

  /** Takes a datagram frame for this node. */
  void receive(CanFrame frame, long nowNs) {
    switch (Header.datagramPart(frame)) {
      case ONLY -> only(frame);
      case FIRST -> first(frame, nowNs);
      case MIDDLE -> middle(frame, nowNs);
      case LAST -> last(frame);
    }
  }

  /** The sender has given up its alias, or started anew. */
  void forget(int source) {
    partials.remove(source);
  }

  void clear() {
    partials.clear();
  }

  private void only(CanFrame frame) {
    int source = frame.sourceAlias();
    breakOff(source);
    handler.whole(source, Bytes.ofNumber(frame.dataValue(), frame.length()));
  }

  private void first(CanFrame frame, long nowNs) {
    int source = frame.sourceAlias();
    breakOff(source);
    if (hasRoom(nowNs)) {
      Partial partial = new Partial(nowNs);
      partial.add(frame);
      partials.put(source, partial);
    } else {
      handler.broken(source, ErrorCode.BUFFER_UNAVAILABLE);
    }
  }

  private void middle(CanFrame frame, long nowNs) {
    int source = frame.sourceAlias();
    Partial partial = partials.get(source);
    if (partial != null) {
      add(frame, partial);
    } else if (hasRoom(nowNs)) {
      Partial stray = new Partial(nowNs);
      partials.put(source, stray);
      spoil(source, stray, ErrorCode.END_WITHOUT_START);
    }
  }

  private void last(CanFrame frame) {
    int source = frame.sourceAlias();
    Partial partial = partials.get(source);
    if (partial == null) {
      handler.broken(source, ErrorCode.END_WITHOUT_START);
      return;
    }
    add(frame, partial);
    partials.remove(source);
    if (!partial.spoilt) {
      handler.whole(source, partial.whole());
    }
  }

  private void add(CanFrame frame, Partial partial) {
    if (!partial.spoilt && !partial.add(frame)) {
      spoil(frame.sourceAlias(), partial, ErrorCode.INVALID_ARGUMENTS);
    }
  }

  private void spoil(int source, Partial partial, int errorCode) {
    partial.spoilt = true;
    handler.broken(source, errorCode);
  }

  private void breakOff(int source) {
    Partial partial = partials.remove(source);
    if (partial != null && !partial.spoilt) {
      handler.broken(source, ErrorCode.START_BEFORE_END);
    }
  }

  private boolean hasRoom(long nowNs) {
    if (partials.size() >= SENDERS_MAX) {
      partials.values().removeIf(partial -> nowNs - partial.begunNs >= ABANDONED_NS);
    }
    return partials.size() < SENDERS_MAX;
  }
}
