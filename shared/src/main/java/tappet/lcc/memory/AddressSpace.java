package tappet.lcc.memory;

import java.util.Optional;
import tappet.lcc.Bytes;

/**
 * A piece of a node's memory (S-9.7.4.2 §4.1), one byte an address. Called only for addresses it
 * has.
 */
public interface AddressSpace {

  /** The configuration description, read only (S-9.7.4.1). */
  int DESCRIPTION = 0xFF;

  /** All memory (S-9.7.4.2 §4.2). */
  int ALL = 0xFE;

  /** The configuration (S-9.7.4.2 §4.2). */
  int CONFIGURATION = 0xFD;

  /** What the maker tells, read only (S-9.7.4.1 §5.1.2). */
  int MAKER = 0xFC;

  /** What the user tells (S-9.7.4.1 §5.1.2). */
  int USER = 0xFB;

  /** 0 to 0xFF. */
  int number();

  /** The lowest address, 0 to 0xFFFFFFFF. */
  default long lowest() {
    return 0;
  }

  /** The highest address, at least the lowest, at most 0xFFFFFFFF. */
  long highest();

  boolean writable();

  /** A name for people, at most 59 bytes; may be empty. */
  default String description() {
    return "";
  }

  /**
   * Reads {@code count} bytes, 1 to 64.
   *
   * @return all of them, or empty if they cannot be read just now
   */
  Optional<Bytes> read(long address, int count);

  /**
   * Writes 1 to 64 bytes; only called if {@link #writable}.
   *
   * @return the reason (S-9.7.3 §3.5.5) if nothing has been written
   */
  Optional<Integer> write(long address, Bytes content);
}
