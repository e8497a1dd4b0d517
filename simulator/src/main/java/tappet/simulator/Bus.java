package tappet.simulator;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.NodeId;

/** The bus between the boards, and the rest of it outside. Frames arrive in the order sent. */
final class Bus {

  private final Map<NodeId, Board> boards = new LinkedHashMap<>();
  private final List<Port> ports = new ArrayList<>();
  private final ArrayDeque<Sent> underWay = new ArrayDeque<>();
  private final Port outside;

  /** A node that nobody knows; it hears nothing. */
  private final Port stranger = (frame, nowNs) -> {};

  private final LongSupplier now;
  private boolean carrying;

  private record Sent(Port from, CanFrame frame) {}

  /**
   * @param toBus takes each frame that the boards send
   * @param now tells the time, in nanoseconds
   */
  Bus(Consumer<CanFrame> toBus, LongSupplier now) {
    this.now = now;
    this.outside = (frame, nowNs) -> toBus.accept(frame);
    ports.add(outside);
  }

  /** The board that owns {@code event}; the first event of a board puts it on the bus. */
  Board owner(EventId event) {
    return boards.computeIfAbsent(event.allocatedBy(), this::hang);
  }

  private Board hang(NodeId id) {
    var board = new Board(id, this::send, now);
    ports.add(board);
    return board;
  }

  void start(long nowNs) {
    boards.values().forEach(board -> board.start(nowNs));
  }

  /** Lets the boards do what is due. */
  void advance(long nowNs) {
    boards.values().forEach(board -> board.advance(nowNs));
  }

  /** When a board has something to do. */
  OptionalLong deadlineNs() {
    OptionalLong first = OptionalLong.empty();
    for (Board board : boards.values()) {
      first = Deadlines.earlier(first, board.deadlineNs());
    }
    return first;
  }

  /** Tells that an event has happened, from the board that owns it. */
  void report(EventId event) {
    owner(event).report(event);
  }

  /**
   * Lets the boards of a device tell this from now on, whatever the device is like.
   *
   * @param all every event that tells of the device
   * @param standing those that are told
   */
  void misreport(Collection<EventId> all, Collection<EventId> standing) {
    all.forEach(event -> owner(event).misreport(event, standing.contains(event)));
    tellStates(all);
  }

  /** Lets the boards of a device tell again how it is. */
  void reportTruly(Collection<EventId> all) {
    all.forEach(event -> owner(event).reportTruly(event));
    tellStates(all);
  }

  /** What stands is told first: who hears only of what does not would know nothing for a moment. */
  private void tellStates(Collection<EventId> all) {
    all.stream()
        .sorted(Comparator.comparing(event -> !owner(event).stands(event)))
        .forEach(event -> owner(event).tellState(event));
  }

  /** A stranger speaks with the alias of a board. */
  void clash(Board board) {
    send(stranger, new Message.ReserveId(board.alias()).encode());
  }

  /** A frame from the rest of the bus. */
  void sendFromOutside(CanFrame frame) {
    send(outside, frame);
  }

  private void send(Port from, CanFrame frame) {
    underWay.add(new Sent(from, frame));
  }

  /**
   * Carries every frame sent to all the others. A frame that is sent while one is carried waits its
   * turn, as on the wire.
   *
   * @return whether there was any
   */
  boolean carry(long nowNs) {
    if (carrying || underWay.isEmpty()) {
      return false;
    }
    carrying = true;
    try {
      carryAll(nowNs);
      return true;
    } finally {
      carrying = false;
    }
  }

  private void carryAll(long nowNs) {
    for (Sent sent = underWay.poll(); sent != null; sent = underWay.poll()) {
      deliver(sent, nowNs);
    }
  }

  private void deliver(Sent sent, long nowNs) {
    for (Port port : ports) {
      if (port != sent.from()) {
        port.hear(sent.frame(), nowNs);
      }
    }
  }

  List<Board> boards() {
    return List.copyOf(boards.values());
  }

  Board board(NodeId id) {
    Board board = boards.get(id);
    if (board == null) {
      throw new IllegalArgumentException(
          "no board %s, expected one of %s".formatted(id, boards.keySet()));
    }
    return board;
  }
}
