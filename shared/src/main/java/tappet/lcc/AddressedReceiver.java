package tappet.lcc;

import java.io.ByteArrayOutputStream;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Puts long addressed messages together, for each sender and kind on its own, as they may be mixed
 * on the way (S-9.7.3 §7.3.7). What comes out of order, too long or too late is dropped: no answer
 * to that is asked for (§3.5.5). At most {@value #PARTIALS_MAX} at a time; a new one takes the
 * place of the oldest.
 */
final class AddressedReceiver {

  static final int PARTIALS_MAX = 16;
  static final int LENGTH_MAX = 512;
  private static final long ABANDONED_NS = 3_000_000_000L;
  private static final int ADDRESS_BYTES = 2;

  private final Map<Long, Partial> partials = new LinkedHashMap<>();

  private static final class Partial {
    private final ByteArrayOutputStream content = new ByteArrayOutputStream();
    private final long begunNs;

    Partial(long begunNs) {
      this.begunNs = begunNs;
    }

    void add(CanFrame frame) {
      for (int index = ADDRESS_BYTES; index < frame.length(); index++) {
        content.write(frame.dataByte(index));
      }
    }
  }

  /** Takes a frame of an addressed message; gives the content once it is whole. */
  Optional<Bytes> receive(CanFrame frame, long nowNs) {
    long key = key(frame.sourceAlias(), Header.mti(frame));
    Partial partial = Header.beginsMessage(frame) ? begin(key, nowNs) : partials.get(key);
    if (partial == null) {
      return Optional.empty();
    }
    partial.add(frame);
    if (Header.endsMessage(frame)) {
      partials.remove(key);
      return Optional.of(Bytes.copyOf(partial.content.toByteArray()));
    }
    if (isTooMuch(partial, nowNs)) {
      partials.remove(key);
    }
    return Optional.empty();
  }

  /** The sender has given up its alias, or started anew. */
  void forget(int source) {
    partials.keySet().removeIf(key -> key >>> 12 == source);
  }

  void clear() {
    partials.clear();
  }

  private Partial begin(long key, long nowNs) {
    partials.remove(key);
    if (partials.size() == PARTIALS_MAX) {
      Iterator<Partial> oldest = partials.values().iterator();
      oldest.next();
      oldest.remove();
    }
    Partial partial = new Partial(nowNs);
    partials.put(key, partial);
    return partial;
  }

  private static boolean isTooMuch(Partial partial, long nowNs) {
    return partial.content.size() > LENGTH_MAX || nowNs - partial.begunNs >= ABANDONED_NS;
  }

  private static long key(int source, int mti) {
    return ((long) source << 12) | mti;
  }
}
