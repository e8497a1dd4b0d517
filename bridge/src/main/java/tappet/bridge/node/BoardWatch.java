package tappet.bridge.node;

import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.Predicate;
import tappet.layout.Board;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;

/**
 * Watches whether boards are there. Any frame of a board shows that it lives; one that has been
 * silent is asked for its node id (S-9.7.3 §3.4.2), which every node answers within 750 ms (§3.7).
 */
public final class BoardWatch {

  /** A board that has been silent so long is asked. */
  public static final long ASK_AFTER_NS = 3_000_000_000L;

  /** A board that has been silent so long is lost: it has left three questions unanswered. */
  public static final long LOST_AFTER_NS = 10_000_000_000L;

  private static final int NODE_ID_BYTES = 6;
  private static final int ALIASES = 0x1000;

  /** Who wants to know. */
  public interface Listener {

    /** The board has left all questions unanswered. */
    void boardLost(Board board);

    /** The board answers again, or has started anew: what it says now is to be asked. */
    void boardFound(Board board);
  }

  private static final class Watched {
    private final Board board;
    private boolean lost;
    private Optional<String> heardBy = Optional.empty();
    private long heardAtNs;
    private long askAtNs;

    Watched(Board board) {
      this.board = board;
    }

    Watched(Board board, Watched before, long nowNs) {
      this(board);
      live(nowNs);
      if (before != null) {
        lost = before.lost;
        heardBy = before.heardBy;
        heardAtNs = before.heardAtNs;
        askAtNs = before.askAtNs;
      }
    }

    void live(long nowNs) {
      heardAtNs = nowNs;
      askAtNs = nowNs + ASK_AFTER_NS;
    }

    long dueNs() {
      return lost ? askAtNs : Math.min(askAtNs, heardAtNs + LOST_AFTER_NS);
    }
  }

  private final Map<NodeId, Watched> byNode = new LinkedHashMap<>();
  private final Watched[] byAlias = new Watched[ALIASES];
  private final Listener listener;
  private boolean started;

  public BoardWatch(Collection<Board> boards, Listener listener) {
    boards.forEach(board -> byNode.put(board.node(), new Watched(board)));
    this.listener = listener;
  }

  /** Begins to watch, or begins again when the bus was away: every board has time to answer. */
  public void start(long nowNs) {
    started = true;
    byNode.values().forEach(watched -> watched.live(nowNs));
  }

  /** Watches other boards; those that are watched already are not asked anew. */
  public void watch(Collection<Board> boards, long nowNs) {
    Map<NodeId, Watched> before = new LinkedHashMap<>(byNode);
    byNode.clear();
    for (Board board : boards) {
      byNode.put(board.node(), new Watched(board, before.get(board.node()), nowNs));
    }
    for (int alias = 0; alias < ALIASES; alias++) {
      byAlias[alias] = byAlias[alias] == null ? null : byNode.get(byAlias[alias].board.node());
    }
  }

  /**
   * Takes every frame of the bus; one of a board that is known costs next to nothing.
   *
   * @param from the connection it came by
   */
  public void hear(CanFrame frame, String from, long nowNs) {
    if (frame.length() == NODE_ID_BYTES || frame.length() == 0) {
      learn(Messages.decode(frame), nowNs);
    }
    Watched watched = byAlias[frame.sourceAlias()];
    if (watched != null) {
      watched.heardBy = Optional.of(from);
      seen(watched, nowNs);
    }
  }

  /**
   * Does what is due.
   *
   * @param ask takes the nodes to be asked for their id
   */
  public void advance(long nowNs, Consumer<NodeId> ask) {
    for (Watched watched : due(watched -> watched.dueNs() <= nowNs)) {
      if (!watched.lost && nowNs >= watched.heardAtNs + LOST_AFTER_NS) {
        watched.lost = true;
        listener.boardLost(watched.board);
      }
      if (nowNs >= watched.askAtNs) {
        watched.askAtNs = nowNs + ASK_AFTER_NS;
        ask.accept(watched.board.node());
      }
    }
  }

  /** When {@link #advance} is next needed. */
  public OptionalLong deadlineNs() {
    return due(any -> true).stream().mapToLong(Watched::dueNs).min();
  }

  /** The boards that do not answer now. */
  public List<Board> lost() {
    return byNode.values().stream()
        .filter(watched -> watched.lost)
        .map(watched -> watched.board)
        .toList();
  }

  /**
   * The connection that a board was last heard by; empty while it does not answer, or never has.
   */
  public Optional<String> heardBy(Board board) {
    return Optional.ofNullable(byNode.get(board.node()))
        .filter(watched -> !watched.lost)
        .flatMap(watched -> watched.heardBy);
  }

  private List<Watched> due(Predicate<Watched> which) {
    return started ? byNode.values().stream().filter(which).toList() : List.of();
  }

  private void learn(Message message, long nowNs) {
    if (message instanceof Message.AliasMapDefinition definition) {
      assign(definition.node(), definition.source());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      assign(verified.node(), verified.source());
    } else if (message instanceof Message.InitializationComplete complete) {
      assign(complete.node(), complete.source());
      restarted(complete.node(), nowNs);
    } else if (message instanceof Message.AliasMapReset reset) {
      byAlias[reset.source()] = null;
    } else if (message instanceof Message.AliasMapEnquiry enquiry && enquiry.node().isEmpty()) {
      // S-9.7.2.1 §6.2.3: every stored pair is void; each board tells its alias again.
      Arrays.fill(byAlias, null);
    }
  }

  private void assign(NodeId node, int alias) {
    byAlias[alias] = byNode.get(node);
  }

  /** A board that starts anew has forgotten what its signals were told. */
  private void restarted(NodeId node, long nowNs) {
    Watched watched = byNode.get(node);
    if (watched != null && started) {
      watched.live(nowNs);
      watched.lost = false;
      listener.boardFound(watched.board);
    }
  }

  private void seen(Watched watched, long nowNs) {
    watched.live(nowNs);
    if (watched.lost) {
      watched.lost = false;
      listener.boardFound(watched.board);
    }
  }
}
