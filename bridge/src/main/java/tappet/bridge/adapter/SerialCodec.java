package tappet.bridge.adapter;

import java.util.List;
import tappet.lcc.CanFrame;

/**
 * Reads and writes one opening of a serial device. The reader's and the writer's methods are called
 * on a thread each.
 */
interface SerialCodec {

  /** The most bytes {@link #write} or {@link #question} takes. */
  int BYTES_MAX = 32;

  /** From one question to the next, in nanoseconds. */
  long QUESTION_NS = 1_000_000_000L;

  /** What is said first; by the writer. */
  byte[] greeting();

  /** What is said last if the device is closed in good order; by the writer. */
  byte[] farewell();

  /** What is asked now and then, {@link #QUESTION_NS} apart; by the writer. May be empty. */
  byte[] question();

  /** Writes a frame and answers the offset behind it; by the writer. */
  int write(CanFrame frame, byte[] target, int offset);

  /** The frames completed by these bytes; the list is valid until the next call. By the reader. */
  List<CanFrame> feed(byte[] bytes, int offset, int length, long nowNs);

  /** Time passes, some times a second at least, whether bytes come or not; by the reader. */
  void passTime(long nowNs);

  /** The device was closed or broke; by the reader. */
  void end();
}
