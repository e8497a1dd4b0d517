package tappet.bridge.replay;

import static tappet.bridge.replay.FieldSentences.name;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.lcc.Message;
import tappet.lcc.NodeId;

/** Which boards have fallen silent in a recording, and when they were last heard. */
final class SilentBoards {

  /** A board that was missed may take so long to begin anew when it speaks again. */
  private static final long BEGINNING_ANEW_US = 3_000_000L;

  private final Layout layout;

  /** By alias: who speaks by it. */
  private final Map<Integer, NodeId> nodes = new HashMap<>();

  private final Map<NodeId, Long> lastHeardUs = new HashMap<>();
  private final Map<Board, Long> spokeAgainUs = new HashMap<>();
  private final Set<Board> silent = new HashSet<>();

  SilentBoards(Layout layout) {
    this.layout = layout;
  }

  /** Whoever has this alias has said something. */
  void hear(Message message, int alias, long nowUs) {
    if (message instanceof Message.AliasMapDefinition map) {
      nodes.put(alias, map.node());
    } else if (message instanceof Message.InitializationComplete complete) {
      nodes.put(alias, complete.node());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      nodes.put(alias, verified.node());
    }
    if (nodes.containsKey(alias)) {
      lastHeardUs.put(nodes.get(alias), nowUs);
    }
  }

  /**
   * The board that is missed where this alarm stands; empty if the alarm is about anything else.
   */
  Optional<Board> missed(String alarm) {
    return layout.boards().values().stream()
        .filter(
            board ->
                alarm.startsWith("board " + board.id() + " (" + board.name() + ") does not answer"))
        .findFirst();
  }

  /**
   * A board is missed.
   *
   * @return when it was last heard: it may have been silent since
   */
  long fallSilent(Board board) {
    silent.add(board);
    return lastHeardUs.getOrDefault(board.node(), 0L);
  }

  /**
   * A board answers again.
   *
   * @return false if it was not missed
   */
  boolean speakAgain(Board board, long nowUs) {
    boolean wasSilent = silent.remove(board);
    if (wasSilent) {
      spokeAgainUs.put(board, nowUs);
    }
    return wasSilent;
  }

  /**
   * The boards of a node that has begun anew, but for those that do so because they were missed.
   */
  List<Board> rebooted(NodeId node, long nowUs) {
    return layout.boards().values().stream()
        .filter(board -> board.node().equals(node))
        .filter(board -> !silent.contains(board) && !hasJustSpokenAgain(board, nowUs))
        .toList();
  }

  private boolean hasJustSpokenAgain(Board board, long nowUs) {
    return spokeAgainUs.containsKey(board) && nowUs - spokeAgainUs.get(board) < BEGINNING_ANEW_US;
  }

  /** Whether what a device is told goes to a board that is silent. */
  boolean isDeaf(String device) {
    return silent.stream().anyMatch(board -> carries(board, device));
  }

  /** Whether a device is told by a board. */
  static boolean carries(Board board, String device) {
    return board.signals().stream().anyMatch(id -> device.equals("signal " + name(id)))
        || board.switches().stream().anyMatch(id -> device.equals("lock of " + name(id)))
        || board.lineside().stream()
            .anyMatch(each -> device.equals(each.kind() + " " + name(each.id())));
  }

  /** A board as sentences have it. */
  static String words(Board board) {
    return "board " + name(board.id());
  }
}
