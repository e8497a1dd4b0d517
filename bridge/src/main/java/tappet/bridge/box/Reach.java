package tappet.bridge.box;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;
import tappet.bridge.field.Field;
import tappet.bridge.node.BoardWatch;
import tappet.layout.Board;
import tappet.lcc.EventId;

/**
 * Tells whether an order can have been heard where it is to be carried out. What nothing detects is
 * assumed to follow no other.
 */
final class Reach {

  private final Supplier<Field> field;
  private final BoardWatch boards;
  private final Map<String, Boolean> connections;
  private final Set<String> overheard;

  /**
   * @param field knows which boards carry an order out; another one may take its place
   * @param boards knows by which connection each board was heard
   * @param connections whether each connection is up
   * @param overheard those by which nothing is told
   */
  Reach(
      Supplier<Field> field,
      BoardWatch boards,
      Map<String, Boolean> connections,
      Set<String> overheard) {
    this.field = field;
    this.boards = boards;
    this.connections = connections;
    this.overheard = overheard;
  }

  /** Whether an order that goes out now can be heard. */
  boolean hears(EventId order) {
    List<Board> carriers = field.get().carriers(order);
    return carriers.isEmpty() ? everyWayIsTold() : carriers.stream().allMatch(this::answers);
  }

  private boolean answers(Board board) {
    return boards
        .heardBy(board)
        .filter(way -> connections.getOrDefault(way, false) && !overheard.contains(way))
        .isPresent();
  }

  /** A device that hangs on no board that is watched may be behind any of them. */
  private boolean everyWayIsTold() {
    return overheard.isEmpty() && !connections.containsValue(false);
  }
}
