package tappet.bridge.node;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.layout.Board;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.NodeId;
import tappet.source.Place;

class BoardWatchTest {

  private static final long SECOND_NS = 1_000_000_000L;
  private static final NodeId WEST = NodeId.of("0A.00.00.00.00.01");
  private static final NodeId EAST = NodeId.of("0A.00.00.00.00.02");
  private static final int ALIAS = 0x123;
  private static final String CABLE = "the cable";

  private final List<String> told = new ArrayList<>();
  private final BoardWatch watch =
      new BoardWatch(
          List.of(board("west", WEST), board("east", EAST)),
          new BoardWatch.Listener() {
            @Override
            public void boardLost(Board board) {
              told.add("lost " + board.id());
            }

            @Override
            public void boardFound(Board board) {
              told.add("found " + board.id());
            }
          });

  @BeforeEach
  void begin() {
    watch.start(0);
    watch.hear(new Message.AliasMapDefinition(ALIAS, WEST).encode(), CABLE, 0);
  }

  private static Board board(String id, NodeId node) {
    return new Board(id, id, node, List.of(), List.of(), List.of(), new Place("f", 1, 1));
  }

  private void passTo(double seconds) {
    watch.advance((long) (seconds * SECOND_NS), node -> told.add("ask " + node));
  }

  private void hear(Message message, double seconds) {
    watch.hear(message.encode(), CABLE, (long) (seconds * SECOND_NS));
  }

  // S-9.7.3 §3.4.2: only the node of that id answers.
  @Test
  void silentBoardIsAsked() {
    hear(new Message.EventReport(ALIAS, new EventId(1)), 1);
    passTo(3);
    assertEquals(List.of("ask " + EAST), told);
    passTo(4);
    assertEquals(List.of("ask " + EAST, "ask " + WEST), told);
  }

  /** The layout has another board now, and one no more. */
  @Test
  void boardThatIsWatchedAlreadyGoesOnBeingWatched() {
    watch.watch(
        List.of(board("new", NodeId.of("0A.00.00.00.00.03")), board("west", WEST)), 2 * SECOND_NS);
    hear(new Message.EventReport(ALIAS, new EventId(1)), 8);
    passTo(11);
    assertEquals(
        List.of("ask 0A.00.00.00.00.03", "ask " + WEST), told, "the new one has until 12 s");
    passTo(12);
    assertEquals("lost new", told.get(2));
    hear(new Message.EventReport(ALIAS, new EventId(1)), 13);
    passTo(20);
    assertEquals(List.of("new"), watch.lost().stream().map(Board::id).toList());
  }

  @Test
  void boardThatLeavesEveryQuestionUnansweredIsLostOnce() {
    for (int second = 1; second <= 20; second++) {
      hear(new Message.EventReport(ALIAS, new EventId(1)), second);
      passTo(second);
    }
    assertEquals(
        List.of(
            "ask " + EAST,
            "ask " + EAST,
            "ask " + EAST,
            "lost east",
            "ask " + EAST,
            "ask " + EAST,
            "ask " + EAST),
        told);
    assertEquals(List.of("east"), watch.lost().stream().map(Board::id).toList());
  }

  @Test
  void lostBoardIsFoundByItsAnswer() {
    passTo(10);
    told.clear();
    hear(new Message.VerifiedNodeId(0x456, EAST, false), 11);
    assertEquals(List.of("found east"), told);
    assertEquals(List.of("west"), watch.lost().stream().map(Board::id).toList());
  }

  // S-9.7.3 §3.4.1: Initialization Complete is the first message after a start.
  @Test
  void boardThatStartsAnewIsFoundEvenIfItWasNeverMissed() {
    hear(new Message.InitializationComplete(ALIAS, WEST, false), 1);
    assertEquals(List.of("found west"), told);
  }

  // S-9.7.2.1 §6.2.4: an alias given up is somebody else's afterwards.
  @Test
  void framesUnderAnAliasGivenUpShowNothing() {
    hear(new Message.AliasMapReset(ALIAS, WEST), 1);
    hear(new Message.EventReport(ALIAS, new EventId(1)), 9);
    passTo(10);
    assertEquals(List.of("lost west", "ask " + WEST, "lost east", "ask " + EAST), told);
  }

  @Test
  void strangersAreNotWatched() {
    hear(new Message.InitializationComplete(0x777, NodeId.of("0A.00.00.00.00.99"), false), 1);
    assertEquals(List.of(), told);
  }

  @Test
  void deadlineIsTheNextQuestionOrLoss() {
    assertEquals(OptionalLong.of(3 * SECOND_NS), watch.deadlineNs());
    passTo(3);
    assertEquals(OptionalLong.of(6 * SECOND_NS), watch.deadlineNs());
  }
}
