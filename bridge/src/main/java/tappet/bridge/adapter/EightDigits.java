package tappet.bridge.adapter;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Eight hexadecimal digits in upper case, taken as one number of eight bytes: no loop, no table.
 */
final class EightDigits {

  /** Stands for symbols that are no such digits; no value is negative. */
  static final long NONE = -1;

  private static final VarHandle BYTES =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private static final long EACH = 0x0101_0101_0101_0101L;
  private static final long LOW_HALVES = 0x0F * EACH;

  private EightDigits() {}

  /** The value of the digits at an index, 32 bits, or {@link #NONE}. */
  static long read(byte[] bytes, int at) {
    long symbols = (long) BYTES.get(bytes, at);
    long letters = (symbols >>> 6) & EACH;
    long values = ((symbols & LOW_HALVES) + 9 * letters) & LOW_HALVES;
    // Only digits come out as they went in.
    return symbols == symbols(values) ? joined(values) : NONE;
  }

  /** Writes the digits of a 32-bit value at an index. */
  static void write(int value, byte[] bytes, int at) {
    BYTES.set(bytes, at, symbols(apart(value)));
  }

  /** The digits of eight values below 16. */
  private static long symbols(long values) {
    long letters = ((values + 6 * EACH) >>> 4) & EACH;
    return values + '0' * EACH + ('A' - '9' - 1) * letters;
  }

  private static long joined(long values) {
    long bytes = (values | (values >>> 4)) & 0x00FF_00FF_00FF_00FFL;
    long pairs = (bytes | (bytes >>> 8)) & 0x0000_FFFF_0000_FFFFL;
    return (pairs | (pairs >>> 16)) & 0xFFFF_FFFFL;
  }

  private static long apart(int value) {
    long number = value & 0xFFFF_FFFFL;
    long pairs = (number | (number << 16)) & 0x0000_FFFF_0000_FFFFL;
    long bytes = (pairs | (pairs << 8)) & 0x00FF_00FF_00FF_00FFL;
    return (bytes | (bytes << 4)) & LOW_HALVES;
  }
}
