package tappet.bridge.replay;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import tappet.bridge.record.Entry;
import tappet.bridge.record.Item;
import tappet.bridge.record.Session;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;

/**
 * Which frames of a log the daemon sent, where the log itself does not say: those of the aliases
 * that its node had (S-9.7.2.1 §6.2), and before each of them was its own, those that asked for it.
 * Without a node id given, the daemon is the node that tells the layout's devices what to do.
 */
final class OwnFrames {

  private final Spoken spoken;
  private final Map<Integer, NodeId> nodes = new HashMap<>();
  private final Set<Integer> commanders = new HashSet<>();

  private OwnFrames(Spoken spoken) {
    this.spoken = spoken;
  }

  /**
   * The daemon in a log.
   *
   * @param aliases all that it had, the first one first
   */
  record Daemon(Optional<NodeId> node, List<Integer> aliases) {}

  /** Several nodes may be the daemon, or none is. */
  static final class Unknown extends Exception {
    private static final long serialVersionUID = 1;

    Unknown(String wrong) {
      super(wrong, null, false, false);
    }
  }

  /**
   * Finds the daemon.
   *
   * @param given its node id, where it is known
   * @throws Unknown if it cannot be told, in the words of people
   */
  static Daemon find(Session session, Optional<NodeId> given, Spoken spoken) throws Unknown {
    OwnFrames own = new OwnFrames(spoken);
    own.hear(session);
    return own.daemon(session, given);
  }

  /** The same session with the daemon's frames marked as sent. */
  static Session marked(Session session, Daemon daemon) {
    Set<Integer> aliases = Set.copyOf(daemon.aliases());
    List<Entry> entries =
        session.entries().stream()
            .map(
                entry ->
                    entry.item() instanceof Item.Heard heard
                            && aliases.contains(heard.frame().sourceAlias())
                        ? new Entry(entry.timeUs(), new Item.Sent(heard.frame()), entry.line())
                        : entry)
            .toList();
    return new Session(session.start(), entries, session.firstLine());
  }

  private void hear(Session session) {
    for (Entry entry : session.entries()) {
      if (entry.item() instanceof Item.Heard heard) {
        hear(Messages.decode(heard.frame()));
      }
    }
  }

  private void hear(Message message) {
    if (message instanceof Message.AliasMapDefinition map) {
      nodes.put(map.source(), map.node());
    } else if (message instanceof Message.InitializationComplete complete) {
      nodes.put(complete.source(), complete.node());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      nodes.put(verified.source(), verified.node());
    } else if (message instanceof Message.EventReport report && spoken.isOrder(report.event())) {
      commanders.add(report.source());
    }
  }

  private Daemon daemon(Session session, Optional<NodeId> given) throws Unknown {
    Set<Integer> aliases = given.map(this::aliasesOf).orElse(commanders);
    if (aliases.isEmpty()) {
      throw new Unknown(
          given
              .map(node -> "node %s has no alias in it".formatted(node))
              .orElse("nobody in it tells the layout's devices what to do"));
    }
    Set<String> found =
        aliases.stream().map(this::words).collect(Collectors.toCollection(TreeSet::new));
    if (found.size() > 1) {
      throw new Unknown(
          "more than one node tells the layout's devices what to do: " + String.join(", ", found));
    }
    Optional<NodeId> node = aliases.stream().findFirst().map(nodes::get);
    node.map(this::aliasesOf).ifPresent(aliases::addAll);
    return new Daemon(node, inOrder(session, aliases));
  }

  private static List<Integer> inOrder(Session session, Set<Integer> aliases) {
    return session.entries().stream()
        .flatMap(entry -> frame(entry).stream())
        .map(CanFrame::sourceAlias)
        .filter(aliases::contains)
        .distinct()
        .toList();
  }

  private static Optional<CanFrame> frame(Entry entry) {
    return entry.item() instanceof Item.Heard heard ? Optional.of(heard.frame()) : Optional.empty();
  }

  private Set<Integer> aliasesOf(NodeId node) {
    return nodes.entrySet().stream()
        .filter(entry -> entry.getValue().equals(node))
        .map(Map.Entry::getKey)
        .collect(Collectors.toCollection(HashSet::new));
  }

  private String words(int alias) {
    return Optional.ofNullable(nodes.get(alias))
        .map(NodeId::toString)
        .orElseGet(() -> "a node of alias %03X".formatted(alias));
  }
}
