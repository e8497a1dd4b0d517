package tappet.bridge.hub;

import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;
import tappet.lcc.CanFrame;

/**
 * One search for a ring: a frame that nobody else would send, another one down each connection. One
 * that comes back proves that its way out and its way in are joined somewhere else.
 *
 * <p>The frame is a Check ID of sequence 1: open to every sender at any time, of no meaning for LCC
 * nodes beyond "do you use this alias?" and never sent by them (S-9.7.2.1 §6.1). Its 24 free bits
 * are the number of the search, drawn by chance, plus the place of the connection.
 */
final class RingProbe {

  /** Down so many connections one search may go; further ones are not asked. */
  static final int CONNECTIONS_MAX = 1000;

  private static final int HEADER = 0x11000000;
  private static final int NUMBER_MASK = 0xFFFFFF;
  private static final int ALIAS_VALUES = 0x1000;

  private final int first;
  private final List<Connection> asked;
  private final long startNs;
  private boolean isOver;

  private RingProbe(int first, List<Connection> asked, long startNs) {
    this.first = first;
    this.asked = asked;
    this.startNs = startNs;
  }

  /** A search with a number of its own, none of whose frames has alias zero. */
  static RingProbe of(List<Connection> asked, RandomGenerator chance, long nowNs) {
    List<Connection> some = List.copyOf(asked.subList(0, Math.min(asked.size(), CONNECTIONS_MAX)));
    int alias = chance.nextInt(1, ALIAS_VALUES - CONNECTIONS_MAX);
    return new RingProbe(chance.nextInt(ALIAS_VALUES) * ALIAS_VALUES + alias, some, nowNs);
  }

  /** Whether this frame may be one of a search, by whomever. */
  static boolean isProbe(CanFrame frame) {
    return frame.length() == 0 && (frame.header() & ~NUMBER_MASK) == HEADER;
  }

  List<Connection> asked() {
    return asked;
  }

  CanFrame frameFor(int place) {
    return CanFrame.empty(HEADER | (first + place));
  }

  /** The connection down which this frame was sent, if it is of this search. */
  Optional<Connection> wayOut(CanFrame frame) {
    int place = number(frame) - first;
    return place >= 0 && place < asked.size() ? Optional.of(asked.get(place)) : Optional.empty();
  }

  /**
   * Whether a frame of another hub's search comes before this one. Of several hubs in one ring that
   * search at the same time, only the one with the greatest number finds its own frames back, and
   * so the ring is cut at one place.
   */
  boolean yieldsTo(CanFrame other) {
    return number(other) > first;
  }

  long ageNs(long nowNs) {
    return nowNs - startNs;
  }

  /** Found a ring, or gave way to another hub: what still comes back counts no more. */
  void end() {
    isOver = true;
  }

  boolean isOver() {
    return isOver;
  }

  private static int number(CanFrame frame) {
    return frame.header() & NUMBER_MASK;
  }
}
