package tappet.bridge.field;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.interlocking.Input;
import tappet.layout.Board;
import tappet.layout.ElectricLock;
import tappet.layout.Layout;
import tappet.layout.Switch;
import tappet.lcc.EventId;

/**
 * The switches and electric locks that no board reports: what is assumed of them is forgotten as
 * soon as an order may have been lost.
 */
final class Undetected {

  /**
   * One of them.
   *
   * @param carriedAs the switches whose board carries out its orders
   * @param orders the events that it is told by
   * @param forgotten tells that nothing is known of it
   */
  private record Device(List<String> carriedAs, Collection<EventId> orders, Input forgotten) {

    /** An end of a crossover that is sent nothing of its own moves with the other one. */
    static Device of(Switch toe, Layout layout) {
      Switch mover = toe.to().isEmpty() ? layout.switches().get(toe.number()) : toe;
      return new Device(
          List.of(toe.id(), mover.id()),
          mover.to().values(),
          new Input.SwitchReport(toe.id(), Optional.empty()));
    }

    static Device of(Switch toe, ElectricLock lock) {
      return new Device(
          List.of(toe.id()), lock.to().values(), new Input.LockReport(toe.id(), Optional.empty()));
    }

    /** A switch may be asked for by one board and moved by another: it needs both. */
    boolean hangsOn(Board board) {
      return carriedAs.stream().anyMatch(board.switches()::contains)
          || orders.stream().anyMatch(order -> order.allocatedBy().equals(board.node()));
    }
  }

  private final Collection<Board> boards;
  private final List<Device> devices;

  Undetected(Layout layout) {
    boards = layout.boards().values();
    devices = layout.switches().values().stream().flatMap(toe -> of(toe, layout)).toList();
  }

  private static Stream<Device> of(Switch toe, Layout layout) {
    Optional<Device> lock =
        toe.lock()
            .filter(any -> any.assumedAfter().isPresent())
            .map(undetected -> Device.of(toe, undetected));
    return toe.isDetected()
        ? lock.stream()
        : Stream.concat(Stream.of(Device.of(toe, layout)), lock.stream());
  }

  /** Nothing is known of any of them. */
  Stream<Input> forgetAll() {
    return devices.stream().map(Device::forgotten);
  }

  /** Nothing is known of those that a board carries. */
  Stream<Input> forget(Board board) {
    return devices.stream().filter(device -> device.hangsOn(board)).map(Device::forgotten);
  }

  /** Nothing is known of those that are told by this event. */
  Stream<Input> forget(EventId order) {
    return toldBy(order).map(Device::forgotten);
  }

  /** The boards that must be there for those told by this event to follow it. */
  List<Board> carriers(EventId order) {
    return boards.stream()
        .filter(board -> toldBy(order).anyMatch(device -> device.hangsOn(board)))
        .toList();
  }

  private Stream<Device> toldBy(EventId order) {
    return devices.stream().filter(device -> device.orders().contains(order));
  }
}
