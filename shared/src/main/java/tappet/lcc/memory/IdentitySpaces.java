package tappet.lcc.memory;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.util.Optional;
import java.util.function.Consumer;
import tappet.lcc.Bytes;
import tappet.lcc.Identity;
import tappet.lcc.Texts;

/**
 * The two spaces of the abbreviated description (S-9.7.4.1 §5.1.2), made from the {@link Identity}
 * that the node also tells as simple node information, so that the two always agree.
 *
 * <pre>
 *   0xFC   0 version 4   1 manufacturer (41)   42 model (41)   83 hardware (21)   104 software (21)
 *   0xFB   0 version 2   1 user name (63)      64 user description (64)
 * </pre>
 */
public final class IdentitySpaces {

  private static final int MAKER_VERSION = 4;
  private static final int USER_VERSION = 2;
  private static final int NAME_SIZE = 41;
  private static final int VERSION_SIZE = 21;
  private static final int USER_NAME_FROM = 1;
  private static final int USER_NAME_SIZE = 63;
  private static final int USER_DESCRIPTION_FROM = 64;
  private static final int USER_DESCRIPTION_SIZE = 64;

  private final Consumer<Identity> changed;
  private final MemorySpace maker;
  private final MemorySpace user;
  private Identity identity;

  /**
   * @param changed hears the new identity when a tool has changed the user's texts; the node must
   *     then announce itself again (S-9.7.4.3 §6.3)
   */
  public IdentitySpaces(Identity identity, Consumer<Identity> changed) {
    this.identity = identity;
    this.changed = changed;
    this.maker = MemorySpace.readOnly(AddressSpace.MAKER, "Maker", makerContent(identity));
    this.user =
        MemorySpace.writable(
            AddressSpace.USER, "User", userContent(identity), (address, content) -> read());
  }

  /** What the node tells of itself now. */
  public Identity identity() {
    return identity;
  }

  /** Space 0xFC. */
  public AddressSpace maker() {
    return maker;
  }

  /** Space 0xFB. Its version byte keeps its value, whatever is written there. */
  public AddressSpace user() {
    return new AddressSpace() {
      @Override
      public int number() {
        return user.number();
      }

      @Override
      public long highest() {
        return user.highest();
      }

      @Override
      public boolean writable() {
        return true;
      }

      @Override
      public String description() {
        return user.description();
      }

      @Override
      public Optional<Bytes> read(long address, int count) {
        return user.read(address, count);
      }

      @Override
      public Optional<Integer> write(long address, Bytes content) {
        return user.write(address, address == 0 ? withVersion(content) : content);
      }
    };
  }

  private static Bytes withVersion(Bytes content) {
    return Bytes.of(USER_VERSION).and(content.from(1));
  }

  /** A tool may have filled a text to the brim, without a closing zero; it is cut by then. */
  private void read() {
    Bytes content = user.content();
    String name = text(content, USER_NAME_FROM, USER_NAME_SIZE);
    String description = text(content, USER_DESCRIPTION_FROM, USER_DESCRIPTION_SIZE);
    Identity now = identity.withUser(name, description);
    if (!now.equals(identity)) {
      identity = now;
      changed.accept(now);
    }
  }

  private static String text(Bytes content, int from, int size) {
    return Texts.utf8(content.slice(from, size), size - 1);
  }

  private static Bytes makerContent(Identity identity) {
    return Bytes.of(MAKER_VERSION)
        .and(padded(identity.manufacturer(), NAME_SIZE))
        .and(padded(identity.model(), NAME_SIZE))
        .and(padded(identity.hardwareVersion(), VERSION_SIZE))
        .and(padded(identity.softwareVersion(), VERSION_SIZE));
  }

  private static Bytes userContent(Identity identity) {
    return Bytes.of(USER_VERSION)
        .and(padded(identity.userName(), USER_NAME_SIZE))
        .and(padded(identity.userDescription(), USER_DESCRIPTION_SIZE));
  }

  private static Bytes padded(String text, int size) {
    return Bytes.copyOf(text.getBytes(UTF_8), 0, size);
  }
}
