package tappet.lcc.memory;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.util.Optional;
import tappet.lcc.Bytes;

/** An address space from address 0 on whose bytes are kept here. */
public final class MemorySpace implements AddressSpace {

  private final int number;
  private final String description;
  private final byte[] content;
  private final Optional<Listener> listener;

  /** Hears of what a tool has changed. */
  public interface Listener {

    /** These bytes are new; called once they can be read, and not if they were the same. */
    void written(long address, Bytes content);
  }

  private MemorySpace(int number, String description, byte[] content, Optional<Listener> listener) {
    if (number < 0 || number > 0xFF || content.length == 0) {
      throw new IllegalArgumentException(
          "space %d of %d bytes, expected 0 to 255 and at least one byte"
              .formatted(number, content.length));
    }
    this.number = number;
    this.description = description;
    this.content = content;
    this.listener = listener;
  }

  /** A space that tools can only read. */
  public static MemorySpace readOnly(int number, String description, Bytes content) {
    return new MemorySpace(number, description, content.toArray(), Optional.empty());
  }

  /** A text that tools can only read, closed by a zero byte, such as the CDI (S-9.7.4.1 §5). */
  public static MemorySpace text(int number, String description, String text) {
    return readOnly(number, description, Bytes.copyOf((text + '\0').getBytes(UTF_8)));
  }

  /** A space that tools can change. */
  public static MemorySpace writable(
      int number, String description, Bytes content, Listener listener) {
    return new MemorySpace(number, description, content.toArray(), Optional.of(listener));
  }

  /** All of it as it is now. */
  public Bytes content() {
    return Bytes.copyOf(content);
  }

  @Override
  public int number() {
    return number;
  }

  @Override
  public long highest() {
    return content.length - 1L;
  }

  @Override
  public boolean writable() {
    return listener.isPresent();
  }

  @Override
  public String description() {
    return description;
  }

  @Override
  public Optional<Bytes> read(long address, int count) {
    return Optional.of(Bytes.copyOf(content, (int) address, count));
  }

  @Override
  public Optional<Integer> write(long address, Bytes written) {
    int from = (int) address;
    Bytes before = Bytes.copyOf(content, from, written.length());
    System.arraycopy(written.toArray(), 0, content, from, written.length());
    if (!before.equals(written)) {
      listener.ifPresent(heard -> heard.written(address, written));
    }
    return Optional.empty();
  }
}
