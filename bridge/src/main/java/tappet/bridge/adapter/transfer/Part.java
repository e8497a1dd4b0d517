package tappet.bridge.adapter.transfer;

/**
 * Which part of a message a transfer carries (TCP-S (draft) §4). Its §5.1 names mark bits that §4
 * has no place for; they are read as these.
 */
public enum Part {
  /** The whole message. */
  SINGLE(0x0000),
  /** The first of several parts. */
  FIRST(0x0400),
  /** Neither the first nor the last part. */
  MIDDLE(0x0C00),
  /** The last of several parts. */
  LAST(0x0800);

  static final int MASK = 0x0C00;

  private final int flags;

  Part(int flags) {
    this.flags = flags;
  }

  int flags() {
    return flags;
  }

  static Part of(int flags) {
    for (Part part : values()) {
      if (part.flags == (flags & MASK)) {
        return part;
      }
    }
    throw new AssertionError("all four values of two bits have a part");
  }
}
