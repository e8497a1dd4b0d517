package tappet.bridge.hub;

import tappet.lcc.CanFrame;

/**
 * One way in or out of the hub: a serial adapter, a TCP peer, the simulator. The hub calls {@link
 * #send}, {@link #sendAll} and {@link #flush} on its event loop only; the other methods may be
 * called from any thread.
 */
public interface Connection {

  /** What an owner calls it, such as {@code serial adapter /dev/ttyACM0}; never changes. */
  String name();

  /**
   * Takes a frame from the hub. Never blocks; a connection that cannot keep up goes down instead. A
   * closed connection ignores the frame.
   */
  void send(CanFrame frame);

  /** Takes frames from the hub in one go, as {@link #send} does each of them. */
  default void sendAll(FrameBatch batch) {
    batch.frames().forEach(this::send);
  }

  /** Tells that the frames sent so far should leave now: the hub has no more at hand. */
  default void flush() {}

  /** Whether the owner's settings ask for it, so that its absence is an alarm. */
  default boolean asked() {
    return true;
  }

  /** What it may do; never changes. */
  default Access access() {
    return Access.FULL;
  }

  /**
   * Whether nodes may be found behind it; never changes. Nobody answers from behind a recorder, so
   * that nothing is due to it, and it is missed by nobody.
   */
  default boolean leadsToNodes() {
    return true;
  }

  /** What went through so far. */
  default Traffic traffic() {
    return Traffic.NONE;
  }

  /**
   * Breaks the line because of a fault of the program; one that comes back by itself is tried
   * again. On the hub's event loop.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  default void breakOff(String why) {
    close();
  }

  /** Ends the connection for good. Closing twice is harmless. */
  void close();
}
