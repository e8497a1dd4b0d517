package tappet.bridge.node;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import tappet.layout.Layout;
import tappet.lcc.AliasSeed;
import tappet.lcc.Bytes;
import tappet.lcc.DatagramService;
import tappet.lcc.EventId;
import tappet.lcc.Identity;
import tappet.lcc.NodeId;
import tappet.lcc.memory.AddressSpace;
import tappet.lcc.memory.IdentitySpaces;
import tappet.lcc.memory.MemoryOwner;
import tappet.lcc.memory.MemoryServer;
import tappet.lcc.memory.MemorySpace;

/**
 * What the daemon's node tells configuration tools: who made it, what its user calls it, and which
 * events the layout's devices have (S-9.7.4.1, S-9.7.4.2, S-9.7.4.3).
 */
public final class NodeMemory {

  private static final String MANUFACTURER = "Tappet";
  private static final String MODEL = "Signal box";
  private static final String HARDWARE = "none";

  /** Ids below are for what owners write into their files, such as that of the heartbeat. */
  private static final int FIRST_EVENT = 0x8000;

  /** How many ids there are to give. */
  static final int EVENTS_MAX = 0x10000 - FIRST_EVENT;

  /** So many are kept as given before they are. After a crash they are passed over. */
  static final int EVENTS_AHEAD = 16;

  /** What the box does for tools. */
  public interface Box {

    /** The node's names have changed: announce it again (S-9.7.4.3 §6.3). */
    void announceAgain();

    /** Start the node again. */
    void restart(long nowNs);

    /** Whether an event means something to the box already. */
    boolean uses(EventId event);
  }

  private final NodeId id;
  private final Consumer<KeptState> keeper;
  private final Box box;
  private final IdentitySpaces identity;
  private final MemoryServer server;
  private final LateSpace description;
  private final LateSpace configuration;
  private Layout layout;
  private KeptState kept;
  private int eventsGiven;

  public NodeMemory(NodeId id, Layout layout, Keeping keeping, Box box) {
    this.id = id;
    this.layout = layout;
    this.kept = keeping.kept();
    this.eventsGiven = kept.eventsGiven();
    this.keeper = keeping.keeper();
    this.box = box;
    this.identity =
        new IdentitySpaces(
            new Identity(
                MANUFACTURER,
                MODEL,
                HARDWARE,
                keeping.version(),
                kept.userName(),
                kept.userDescription()),
            this::renamed);
    this.description = new LateSpace(AddressSpace.DESCRIPTION, this::description);
    this.configuration = new LateSpace(AddressSpace.CONFIGURATION, this::configuration);
    this.server =
        new MemoryServer(
            id,
            List.of(description, configuration, identity.maker(), identity.user()),
            new Owner());
  }

  /** The layout is another one: tools that read again read of it. */
  public void describe(Layout next) {
    layout = next;
    description.forget();
    configuration.forget();
  }

  /** What the node speaks in datagrams. */
  public List<DatagramService> services() {
    return List.of(server);
  }

  /** What it tells of itself. */
  public Identity identity() {
    return identity.identity();
  }

  /** The node has got an alias, and will want the same one next time; tools may ask from now on. */
  public void aliasTaken(AliasSeed seed) {
    keep(kept.withAliasSeed(seed));
    keepEventsAhead();
  }

  /** The daemon ends in order: what was kept ahead and not given is there for the next time. */
  public void end() {
    keep(kept.withEventsGiven(eventsGiven));
  }

  /** The file is written while the box goes on, so that more is kept than is given meanwhile. */
  private void keepEventsAhead() {
    if (kept.eventsGiven() - eventsGiven <= EVENTS_AHEAD / 2) {
      keep(kept.withEventsGiven(eventsGiven + EVENTS_AHEAD));
    }
  }

  private MemorySpace description() {
    String text = Description.of(identity(), layout).text();
    return MemorySpace.text(AddressSpace.DESCRIPTION, "Description", text);
  }

  private MemorySpace configuration() {
    Bytes content = Bytes.copyOf(Description.of(identity(), layout).content());
    return MemorySpace.readOnly(AddressSpace.CONFIGURATION, "Layout", content);
  }

  private void renamed(Identity now) {
    keep(kept.withUser(now.userName(), now.userDescription()));
    box.announceAgain();
  }

  private void keep(KeptState state) {
    if (!state.equals(kept)) {
      kept = state;
      keeper.accept(state);
    }
  }

  /** What tools may ask beyond reading and writing. */
  private final class Owner implements MemoryOwner {

    /** Everything written has taken effect already. */
    @Override
    public void updateComplete(long nowNs) {}

    @Override
    public void reboot(long nowNs) {
      box.restart(nowNs);
    }

    /** The user's texts are the only thing that a tool can have changed. */
    @Override
    public void factoryReset(long nowNs) {
      int texts = (int) identity.user().highest();
      for (int address = 1; address <= texts; address++) {
        Optional<Integer> unused = identity.user().write(address, Bytes.of(0));
      }
      box.restart(nowNs);
    }

    /** S-9.7.4.2 §4.19: never one given before, which is why the count is kept. */
    @Override
    public Optional<EventId> nextUniqueEvent() {
      while (eventsGiven < EVENTS_MAX) {
        EventId next = new EventId(id.value() << 16 | FIRST_EVENT + eventsGiven);
        eventsGiven++;
        keepEventsAhead();
        if (!box.uses(next)) {
          return Optional.of(next);
        }
      }
      return Optional.empty();
    }
  }
}
