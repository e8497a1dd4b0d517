package tappet.lcc;

/** A protocol that a node speaks in datagrams, known by the first byte of each (S-9.7.3.2 §4.1). */
public interface DatagramService {

  /** The content id: the first byte of every datagram for this service. */
  int contentId();

  /** What to claim beside datagrams: flags of {@link Message.ProtocolSupportReply}. */
  int protocols();

  /**
   * Takes a whole datagram, content id included. It must not throw, whatever the content is.
   *
   * @param source the alias of the sender
   */
  DatagramAnswer receive(int source, Bytes content, long nowNs);

  /** The node starts, or starts again. */
  default void reset() {}
}
