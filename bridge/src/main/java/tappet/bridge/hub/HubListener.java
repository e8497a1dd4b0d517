package tappet.bridge.hub;

import tappet.lcc.CanFrame;

/**
 * Who hears everything the hub hears. Called on the hub's event loop: must not block, so put it
 * into a queue and return. The daemon's own frames are not told back.
 */
public interface HubListener {

  /** A frame came from this connection and went to all others. */
  void frameArrived(Connection from, CanFrame frame);

  /** From now on frames flow from and to this connection. */
  void connectionUp(Connection connection);

  /**
   * From now on frames flow from this connection, and none ever flows to it ({@link
   * Access#OVERHEARD}).
   */
  default void overheard(Connection connection) {
    connectionUp(connection);
  }

  /**
   * No frames flow any more, or none did from the start. Told once until the connection is up
   * again.
   *
   * @param why the end of a sentence that begins with the connection's name, such as {@code does
   *     not answer: device gone}
   */
  void connectionDown(Connection connection, String why);

  /**
   * An alarm: the connection is joined to the others elsewhere too, or sends back what it is told,
   * so that frames would go round for ever. It stays open, but frames flow neither to nor from it
   * until {@link #putBack}. What lies behind it may be heard by the other way of a ring, or not at
   * all: what was heard by it is known no more.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  default void cutOff(Connection connection, String why) {}

  /** The ring is gone: frames flow to and from a connection cut off before. */
  default void putBack(Connection connection) {}

  /**
   * An alarm: frames flow, but something is wrong with the line.
   *
   * @param what the end of a sentence that begins with the connection's name, such as {@code tells
   *     of bus errors}
   */
  default void trouble(Connection connection, String what) {}

  /**
   * The alarm is over.
   *
   * @param beginning how what was wrong began; all that did is over
   */
  default void troubleOver(Connection connection, String beginning) {}
}
