package tappet.lcc;

import java.util.Optional;

/**
 * What becomes of a datagram (S-9.7.3.2 §6): it is taken or it is not.
 *
 * @param errorCode why it is not taken (S-9.7.3 §3.5.5); empty if it is
 * @param reply a datagram for the sender, announced by "reply pending"
 * @param afterwards what to do once the answer has been sent, such as starting again
 */
public record DatagramAnswer(
    Optional<Integer> errorCode, Optional<Bytes> reply, Optional<Runnable> afterwards) {

  /** Taken, and that is all. */
  public static DatagramAnswer taken() {
    return new DatagramAnswer(Optional.empty(), Optional.empty(), Optional.empty());
  }

  /** Taken; then something is done. */
  public static DatagramAnswer takenThen(Runnable afterwards) {
    return new DatagramAnswer(Optional.empty(), Optional.empty(), Optional.of(afterwards));
  }

  /** Taken; a reply follows. */
  public static DatagramAnswer reply(Bytes reply) {
    return new DatagramAnswer(Optional.empty(), Optional.of(reply), Optional.empty());
  }

  /** Not taken, for a reason of {@link ErrorCode}. */
  public static DatagramAnswer rejected(int errorCode) {
    return new DatagramAnswer(Optional.of(errorCode), Optional.empty(), Optional.empty());
  }
}
