package tappet.lcc.memory;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.IntStream;
import tappet.lcc.Bytes;
import tappet.lcc.DatagramAnswer;
import tappet.lcc.DatagramService;
import tappet.lcc.ErrorCode;
import tappet.lcc.EventId;
import tappet.lcc.Message.ProtocolSupportReply;
import tappet.lcc.NodeId;
import tappet.lcc.Texts;

/**
 * Serves the memory of a node to any number of tools (S-9.7.4.2). Every request is answered at
 * once, and none depends on an earlier one, except for the lock, which is a matter among the tools
 * (§4.17).
 *
 * <p>A command that is not known or makes no sense is rejected as a datagram; so is one for a space
 * that is not there (TN-9.7.4.2 §2.4.4). What fails beyond that gets a failed reply that repeats
 * the address. Streams are not spoken, and nothing here can be frozen.
 */
public final class MemoryServer implements DatagramService {

  static final int CONTENT_ID = 0x20;

  private static final int WRITE = 0x00;
  private static final int WRITE_UNDER_MASK = 0x08;
  private static final int READ = 0x40;
  private static final int WRITE_REPLY = 0x10;
  private static final int READ_REPLY = 0x50;
  private static final int FAILED = 0x08;

  private static final int OPTIONS = 0x80;
  private static final int OPTIONS_REPLY = 0x82;
  private static final int SPACE = 0x84;
  private static final int SPACE_ABSENT = 0x86;
  private static final int SPACE_PRESENT = 0x87;
  private static final int LOCK = 0x88;
  private static final int LOCK_REPLY = 0x8A;
  private static final int UNIQUE_EVENTS = 0x8C;
  private static final int UNIQUE_EVENTS_REPLY = 0x8D;
  private static final int UPDATE_COMPLETE = 0xA8;
  private static final int REBOOT = 0xA9;
  private static final int FACTORY_RESET = 0xAA;

  private static final int COUNT_MAX = 64;
  private static final int COUNT_BITS = 0x7F;
  private static final int UNIQUE_EVENTS_MAX = 7;
  private static final int NODE_ID_BYTES = 6;
  private static final int DESCRIPTION_MAX = 59;

  // Configuration options, S-9.7.4.2 §4.14
  private static final int MASK_ANY_ALIGNMENT = 0xE000;
  private static final int READ_MAKER = 0x0800;
  private static final int READ_USER = 0x0400;
  private static final int WRITE_USER = 0x0200;
  private static final int LENGTHS = 0xE2;

  // Address space information, S-9.7.4.2 §4.16
  private static final int READ_ONLY = 0x01;
  private static final int LOWEST_FOLLOWS = 0x02;

  private final NodeId id;
  private final SortedMap<Integer, AddressSpace> spaces = new TreeMap<>();
  private final MemoryOwner owner;
  private Bytes holder = nobody();

  /**
   * @param id the node whose memory it is
   * @param spaces at least one, each number once
   */
  public MemoryServer(NodeId id, List<AddressSpace> spaces, MemoryOwner owner) {
    this.id = id;
    this.owner = owner;
    for (AddressSpace space : spaces) {
      if (this.spaces.put(space.number(), space) != null) {
        throw new IllegalArgumentException("space %02X twice".formatted(space.number()));
      }
    }
    if (spaces.isEmpty()) {
      throw new IllegalArgumentException("no address space, expected at least one");
    }
  }

  @Override
  public int contentId() {
    return CONTENT_ID;
  }

  @Override
  public int protocols() {
    boolean described = spaces.containsKey(AddressSpace.DESCRIPTION);
    boolean identified =
        spaces.containsKey(AddressSpace.MAKER) && spaces.containsKey(AddressSpace.USER);
    return ProtocolSupportReply.MEMORY_CONFIGURATION
        | (described ? ProtocolSupportReply.CONFIGURATION_DESCRIPTION : 0)
        | (identified ? ProtocolSupportReply.ABBREVIATED_DESCRIPTION : 0);
  }

  /** A node that starts again is held by nobody (S-9.7.4.2 §4.17). */
  @Override
  public void reset() {
    holder = nobody();
  }

  @Override
  public DatagramAnswer receive(int source, Bytes request, long nowNs) {
    if (request.length() < 2) {
      return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
    }
    int command = request.at(1);
    return command < OPTIONS ? access(request) : control(command, request.from(2), nowNs);
  }

  private DatagramAnswer access(Bytes request) {
    Optional<Access> read = Access.read(request);
    int operation = request.at(1) & ~0x03;
    if (operation != READ && operation != WRITE && operation != WRITE_UNDER_MASK) {
      return DatagramAnswer.rejected(ErrorCode.SUBCOMMAND_UNKNOWN);
    }
    if (read.isEmpty()) {
      return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
    }
    Access access = read.get();
    AddressSpace space = spaces.get(access.space());
    if (space == null) {
      return DatagramAnswer.rejected(ErrorCode.SPACE_UNKNOWN);
    }
    return switch (operation) {
      case READ -> read(space, access);
      case WRITE -> write(space, access);
      default -> writeUnderMask(space, access);
    };
  }

  /** What reaches over the end is cut there (S-9.7.4.2 §4.5). */
  private static DatagramAnswer read(AddressSpace space, Access access) {
    int count = access.rest().length() == 0 ? 0 : access.rest().at(0) & COUNT_BITS;
    if (count < 1 || count > COUNT_MAX) {
      return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
    }
    long address = access.address();
    if (!holds(space, address, 1)) {
      return failed(access, READ_REPLY, ErrorCode.OUT_OF_BOUNDS);
    }
    int there = (int) Math.min(count, space.highest() - address + 1);
    return space
        .read(address, there)
        .map(content -> DatagramAnswer.reply(access.reply(READ_REPLY).and(content)))
        .orElseGet(() -> failed(access, READ_REPLY, ErrorCode.BUFFER_UNAVAILABLE));
  }

  private static DatagramAnswer write(AddressSpace space, Access access) {
    Bytes content = access.rest();
    if (content.length() < 1 || content.length() > COUNT_MAX) {
      return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
    }
    return refusal(space, access, content.length())
        .or(() -> space.write(access.address(), content))
        .map(reason -> failed(access, WRITE_REPLY, reason))
        .orElseGet(DatagramAnswer::taken);
  }

  /** Pairs of mask and data: where the mask has a one, the data's bit is taken (§4.10). */
  private static DatagramAnswer writeUnderMask(AddressSpace space, Access access) {
    Bytes pairs = access.rest();
    int count = pairs.length() / 2;
    if (count < 1 || pairs.length() > COUNT_MAX || pairs.length() % 2 != 0) {
      return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
    }
    Optional<Integer> refusal = refusal(space, access, count);
    Optional<Bytes> before =
        refusal.isPresent() ? Optional.empty() : space.read(access.address(), count);
    return refusal
        .or(() -> before.isEmpty() ? Optional.of(ErrorCode.BUFFER_UNAVAILABLE) : Optional.empty())
        .or(() -> space.write(access.address(), masked(before.get(), pairs)))
        .map(reason -> failed(access, WRITE_REPLY, reason))
        .orElseGet(DatagramAnswer::taken);
  }

  private static Bytes masked(Bytes before, Bytes pairs) {
    int[] after =
        IntStream.range(0, before.length())
            .map(
                index -> {
                  int mask = pairs.at(2 * index);
                  return (before.at(index) & ~mask) | (pairs.at(2 * index + 1) & mask);
                })
            .toArray();
    return Bytes.of(after);
  }

  /** Why nothing can be written there: all of it or nothing. */
  private static Optional<Integer> refusal(AddressSpace space, Access access, int count) {
    if (!space.writable()) {
      return Optional.of(ErrorCode.READ_ONLY);
    }
    return holds(space, access.address(), count)
        ? Optional.empty()
        : Optional.of(ErrorCode.OUT_OF_BOUNDS);
  }

  private static boolean holds(AddressSpace space, long address, int count) {
    return address >= space.lowest() && address + count - 1 <= space.highest();
  }

  private static DatagramAnswer failed(Access access, int reply, int reason) {
    return DatagramAnswer.reply(access.reply(reply | FAILED).and(Bytes.ofNumber(reason, 2)));
  }

  private DatagramAnswer control(int command, Bytes rest, long nowNs) {
    return switch (command) {
      case OPTIONS -> DatagramAnswer.reply(options());
      case SPACE -> rest.length() < 1 ? malformed() : DatagramAnswer.reply(space(rest.at(0)));
      case LOCK -> rest.length() < NODE_ID_BYTES ? malformed() : lock(rest);
      case UNIQUE_EVENTS -> rest.length() < 1 ? malformed() : uniqueEvents(rest.at(0));
      case UPDATE_COMPLETE -> DatagramAnswer.takenThen(() -> owner.updateComplete(nowNs));
      case REBOOT -> DatagramAnswer.takenThen(() -> owner.reboot(nowNs));
      case FACTORY_RESET -> rest.length() < NODE_ID_BYTES ? malformed() : factoryReset(rest, nowNs);
      default -> DatagramAnswer.rejected(ErrorCode.SUBCOMMAND_UNKNOWN);
    };
  }

  private static DatagramAnswer malformed() {
    return DatagramAnswer.rejected(ErrorCode.INVALID_ARGUMENTS);
  }

  private Bytes options() {
    int available = MASK_ANY_ALIGNMENT;
    available |= spaces.containsKey(AddressSpace.MAKER) ? READ_MAKER : 0;
    AddressSpace user = spaces.get(AddressSpace.USER);
    available |= user == null ? 0 : READ_USER;
    available |= user == null || !user.writable() ? 0 : WRITE_USER;
    return Bytes.of(CONTENT_ID, OPTIONS_REPLY)
        .and(Bytes.ofNumber(available, 2))
        .and(Bytes.of(LENGTHS, spaces.lastKey(), spaces.firstKey()));
  }

  /** A description is sent with a lowest address, so that it stands where the table has it. */
  private Bytes space(int number) {
    AddressSpace space = spaces.get(number);
    if (space == null) {
      return Bytes.of(CONTENT_ID, SPACE_ABSENT, number);
    }
    boolean more = space.lowest() != 0 || !space.description().isEmpty();
    int flags = (space.writable() ? 0 : READ_ONLY) | (more ? LOWEST_FOLLOWS : 0);
    Bytes always =
        Bytes.of(CONTENT_ID, SPACE_PRESENT, number)
            .and(Bytes.ofNumber(space.highest(), 4))
            .and(Bytes.of(flags));
    return more ? always.and(Bytes.ofNumber(space.lowest(), 4)).and(description(space)) : always;
  }

  private static Bytes description(AddressSpace space) {
    String text = Texts.utf8(Bytes.copyOf(space.description().getBytes(UTF_8)), DESCRIPTION_MAX);
    return text.isEmpty() ? Bytes.EMPTY : Bytes.copyOf((text + '\0').getBytes(UTF_8));
  }

  /** Who comes first holds it; a zero id, from anybody, lets it go (S-9.7.4.2 §4.17). */
  private DatagramAnswer lock(Bytes rest) {
    Bytes asker = rest.slice(0, NODE_ID_BYTES);
    if (holder.equals(nobody()) || asker.equals(nobody())) {
      holder = asker;
    }
    return DatagramAnswer.reply(Bytes.of(CONTENT_ID, LOCK_REPLY).and(holder));
  }

  private static Bytes nobody() {
    return Bytes.ofNumber(0, NODE_ID_BYTES);
  }

  private DatagramAnswer uniqueEvents(int count) {
    if (count > UNIQUE_EVENTS_MAX) {
      return malformed();
    }
    Bytes reply = Bytes.of(CONTENT_ID, UNIQUE_EVENTS_REPLY);
    for (int given = 0; given < count; given++) {
      Optional<EventId> next = owner.nextUniqueEvent();
      if (next.isEmpty()) {
        return DatagramAnswer.rejected(ErrorCode.PERMANENT);
      }
      reply = reply.and(Bytes.ofNumber(next.get().value(), Long.BYTES));
    }
    return DatagramAnswer.reply(reply);
  }

  /** Only if it is meant for this node. */
  private DatagramAnswer factoryReset(Bytes rest, long nowNs) {
    return rest.number(0, NODE_ID_BYTES) == id.value()
        ? DatagramAnswer.takenThen(() -> owner.factoryReset(nowNs))
        : malformed();
  }
}
