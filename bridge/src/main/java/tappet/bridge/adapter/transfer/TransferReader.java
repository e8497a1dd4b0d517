package tappet.bridge.adapter.transfer;

import java.nio.ByteBuffer;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Reads transfers from a stream of bytes, however the stream is cut. A transfer that makes no sense
 * is skipped by its length and counted; so is one longer than {@value #TRANSFER_BYTES_MAX} bytes,
 * without being kept. Not for several threads at once.
 */
public final class TransferReader {

  /** The longest transfer kept. The longest message in use, a datagram, has 72 bytes of content. */
  public static final int TRANSFER_BYTES_MAX = 64 * 1024;

  private static final int FIRST_BYTES = 256;

  private ByteBuffer kept = ByteBuffer.allocate(FIRST_BYTES);
  private int skip;
  private long transfersRead;
  private long linkControls;
  private long malformed;

  /** Reads these bytes and hands over each transfer that ends in them, in order. */
  public void feed(byte[] bytes, int offset, int length, Consumer<Transfer> transfers) {
    ByteBuffer piece = ByteBuffer.wrap(bytes, offset, length);
    while (piece.hasRemaining()) {
      if (skip > 0) {
        skipFrom(piece);
      } else if (kept.position() < Transfer.HEAD_BYTES) {
        keep(piece, Transfer.HEAD_BYTES);
        beginBody();
      } else {
        keep(piece, wholeLength());
      }
      if (kept.position() >= Transfer.HEAD_BYTES && kept.position() == wholeLength()) {
        end(transfers);
      }
    }
  }

  private void skipFrom(ByteBuffer piece) {
    int skipped = Math.min(skip, piece.remaining());
    piece.position(piece.position() + skipped);
    skip -= skipped;
  }

  private void keep(ByteBuffer piece, int whole) {
    while (piece.hasRemaining() && kept.position() < whole) {
      kept.put(piece.get());
    }
  }

  private void beginBody() {
    if (kept.position() < Transfer.HEAD_BYTES) {
      return;
    }
    int whole = wholeLength();
    if (whole > TRANSFER_BYTES_MAX) {
      malformed++;
      skip = whole - Transfer.HEAD_BYTES;
      kept.clear();
    } else if (whole > kept.capacity()) {
      kept = ByteBuffer.allocate(whole).put(kept.flip());
    }
  }

  private int wholeLength() {
    int length = Octets.three(kept.duplicate().position(2));
    return Transfer.HEAD_BYTES + length;
  }

  private void end(Consumer<Transfer> transfers) {
    kept.flip();
    if ((kept.getShort(0) & Transfer.IS_MESSAGE) == 0) {
      linkControls++;
    } else {
      tell(Transfer.read(kept), transfers);
    }
    kept = kept.capacity() > FIRST_BYTES ? ByteBuffer.allocate(FIRST_BYTES) : kept.clear();
  }

  private void tell(Optional<Transfer> transfer, Consumer<Transfer> transfers) {
    if (transfer.isPresent()) {
      transfersRead++;
      transfers.accept(transfer.get());
    } else {
      malformed++;
    }
  }

  /** How many transfers have been read. */
  public long transfersRead() {
    return transfersRead;
  }

  /** How many link control messages were skipped: the draft gives them no layout. */
  public long linkControls() {
    return linkControls;
  }

  /** How many transfers made no sense and were skipped. */
  public long malformed() {
    return malformed;
  }
}
