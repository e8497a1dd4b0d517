package tappet.layout;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;
import tappet.source.NearNames;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/**
 * Reads the boards to be watched. A board carries the devices named under {@code carries}, or else
 * those with an event id that starts with its node id (S-9.7.0.4 §5.1).
 */
final class BoardReader {

  private final Layout devices;
  private final Problems problems;
  private final Map<NodeId, String> nodes = new HashMap<>();

  /**
   * A reader of one file's boards.
   *
   * @param devices the layout so far, without boards
   */
  BoardReader(Layout devices, Problems problems) {
    this.devices = devices;
    this.problems = problems;
  }

  Optional<Board> board(YamlNode.Text id, Value written) {
    return written.read(
        fields -> {
          var name = fields.optional("name", "Fallow board").text().orElse(id).value();
          var node = node(id, fields.required("node", "0A.57.00.00.01.00"));
          var carries = carries(fields.optional("carries", "[fallow-1, s1, f2e]"));
          return new Board(
              id.value(),
              name,
              node,
              carried(carries, devices.sections(), section -> owns(node, section)),
              carried(carries, devices.switches(), toe -> owns(node, toe)),
              carried(carries, devices.signals(), signal -> owns(node, signal)),
              lineside(carries, node),
              id.place());
        });
  }

  private NodeId node(YamlNode.Text board, Value written) {
    var node = written.parsed(NodeId::parse, "a node id, six dotted hexadecimal bytes");
    node.map(id -> nodes.putIfAbsent(id, board.value()))
        .ifPresent(
            other ->
                written.note(
                    "board '%s' has this node id already".formatted(other),
                    "every board has an id of its own"));
    return node.orElse(new NodeId(0));
  }

  /** The devices named, or empty where the event ids are to tell. */
  private Optional<Set<String>> carries(Value written) {
    if (!written.present()) {
      return Optional.empty();
    }
    Set<String> known = new LinkedHashSet<>(devices.sections().keySet());
    known.addAll(devices.switches().keySet());
    known.addAll(devices.signals().keySet());
    devices.lineside().devices().forEach(device -> known.add(device.id()));
    Set<String> named = new LinkedHashSet<>();
    for (Value item : written.items()) {
      item.text().filter(text -> isDevice(text, known)).ifPresent(text -> named.add(text.value()));
    }
    return Optional.of(named);
  }

  private boolean isDevice(YamlNode.Text text, Set<String> known) {
    if (known.contains(text.value())) {
      return true;
    }
    problems.add(
        text.place(),
        "there is no device %s".formatted(text.shown()),
        NearNames.meant(text.value(), known, "declare it first"));
    return false;
  }

  private static <T> List<String> carried(
      Optional<Set<String>> named, Map<String, T> devices, Predicate<T> owned) {
    List<String> carried = new ArrayList<>();
    devices.forEach(
        (id, device) -> {
          if (named.map(names -> names.contains(id)).orElseGet(() -> owned.test(device))) {
            carried.add(id);
          }
        });
    return List.copyOf(carried);
  }

  private List<LinesideDevice> lineside(Optional<Set<String>> named, NodeId node) {
    return devices.lineside().devices().stream()
        .filter(
            device ->
                named.map(names -> names.contains(device.id())).orElseGet(() -> owns(node, device)))
        .toList();
  }

  private static boolean owns(NodeId node, LinesideDevice device) {
    return Stream.concat(device.tells().values().stream(), device.told().values().stream())
        .anyMatch(event -> owns(node, event));
  }

  private static boolean owns(NodeId node, Section section) {
    return owns(node, section.occupied()) || owns(node, section.clear());
  }

  private static boolean owns(NodeId node, Switch toe) {
    return toe.ownEvents().stream().anyMatch(event -> owns(node, event));
  }

  private static boolean owns(NodeId node, Signal signal) {
    return signal.events().stream().anyMatch(event -> owns(node, event));
  }

  private static boolean owns(NodeId node, EventId event) {
    return event.allocatedBy().equals(node);
  }
}
