package tappet.bridge.adapter.transfer;

import java.nio.ByteBuffer;

/** Numbers of three and six bytes, most significant byte first. */
final class Octets {

  private Octets() {}

  static void putThree(ByteBuffer target, int value) {
    target.put((byte) (value >>> 16)).putShort((short) value);
  }

  static int three(ByteBuffer bytes) {
    return (bytes.get() & 0xFF) << 16 | (bytes.getShort() & 0xFFFF);
  }

  static void putSix(ByteBuffer target, long value) {
    target.putShort((short) (value >>> 32)).putInt((int) value);
  }

  static long six(ByteBuffer bytes) {
    return (bytes.getShort() & 0xFFFFL) << 32 | (bytes.getInt() & 0xFFFF_FFFFL);
  }
}
