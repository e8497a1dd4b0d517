package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.layout.Signal;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.NodeId;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * A switch that nothing detects is assumed to follow an order only where somebody can have heard it
 * (49 CFR 236.5), and as soon as it is ordered again where that is so.
 */
class UndetectedSwitchTest {

  private static final String CABLE = "the cable";
  private static final String BRANCH = "the branch";
  private static final NodeId SERVOS = NodeId.of("0A.57.00.00.09.00");
  private static final int SERVOS_ALIAS = 0x456;
  private static final String ON_A_BOARD =
      """
      boards:
        servos: {node: 0A.57.00.00.09.00, carries: [t1]}
      """;
  private static final String ON_NO_BOARD = "";

  private final List<CanFrame> sent = new ArrayList<>();
  private SignalBox box;
  private long nowNs;

  @Test
  void signalClearsOverItOnceItsTimeHasRun() {
    begin(ON_A_BOARD);
    tell("throw t1 reverse");
    pass(5);
    tell("line t2e to t6e");
    assertEquals("diverging-approach", aspect());
  }

  @Test
  void orderIsNotAssumedWhileItsBoardIsAway() {
    begin(ON_A_BOARD);
    pass(11);
    assertEquals(
        List.of("board servos (servos) does not answer; unknown: switch t1"), box.alarms());
    tell("throw t1 reverse");
    pass(5);
    tell("line t2e to t6e");
    pass(60);
    assertEquals(Signal.STOP, aspect());
    assertTrue(why("t1").contains("it may not have followed its last order"), why("t1"));

    hearServos(CABLE);
    pass(1);
    assertEquals(Signal.STOP, aspect());
    assertClearsWhenItIsThrownAgain();
  }

  @Test
  void orderIsNotAssumedWhileTheWayToItsBoardIsDown() {
    begin(ON_A_BOARD);
    box.connectionUp(BRANCH, true, nowNs);
    hearServos(BRANCH);
    box.connectionDown(BRANCH, "has left", true, nowNs);
    assertStaysAtStop();

    hearServos(CABLE);
    assertClearsWhenItIsThrownAgain();
  }

  /** By two ways to one bus it is heard as long as one of them is up. */
  @Test
  void boardThatIsHeardByAnotherWayFollows() {
    begin(ON_A_BOARD);
    box.connectionDown(BRANCH, "does not answer", true, nowNs);
    tell("throw t1 reverse");
    pass(5);
    tell("line t2e to t6e");
    assertEquals("diverging-approach", aspect());
  }

  @Test
  void orderToNoKnownBoardIsNotAssumedWhileAnyWayIsDown() {
    begin(ON_NO_BOARD);
    box.connectionDown(BRANCH, "does not answer", true, nowNs);
    assertStaysAtStop();

    box.connectionUp(BRANCH, true, nowNs);
    assertClearsWhenItIsThrownAgain();
  }

  // S-9.7.2.1 §6.2.5: whoever meets its own alias gives it up, and says nothing until it has one.
  @Test
  void orderIsNotAssumedWhileTheNodeMayNotSpeak() {
    begin(ON_NO_BOARD);
    int alias = sent.get(sent.size() - 1).sourceAlias();
    box.frameArrived(
        CABLE,
        new Message.VerifiedNodeId(alias, NodeId.of("0A.00.00.00.00.77"), false).encode(),
        nowNs);
    assertFalse(box.ready());
    tell("throw t1 reverse");
    pass(5);
    assertTrue(box.ready());
    tell("line t2e to t6e");
    assertEquals(Signal.STOP, aspect());
    assertClearsWhenItIsThrownAgain();
  }

  @Test
  void nothingIsAssumedAnyMoreWhenNothingCanBeTrusted() {
    begin(ON_NO_BOARD);
    tell("throw t1 reverse");
    pass(5);
    box.inputLost(nowNs);
    hearAllClear();
    assertTrue(why("t1").contains("is not known to lie in either position"), why("t1"));
    tell("throw t1 reverse");
    pass(5);
    tell("line t2e to t6e");
    assertEquals("diverging-approach", aspect());
  }

  private void begin(String boards) {
    box =
        new SignalBox(
            DemoField.DAEMON,
            DemoField.undetected("t1", "assumed after: 4 s", boards),
            sent::add,
            new BoxListener() {});
    nowNs = DemoField.makeReady(box, CABLE, nowNs);
    if (!boards.isEmpty()) {
      hearServos(CABLE);
    }
  }

  private void assertStaysAtStop() {
    tell("throw t1 reverse");
    pass(5);
    tell("line t2e to t6e");
    assertEquals(Signal.STOP, aspect());
    pass(60);
    assertEquals(Signal.STOP, aspect());
  }

  private void assertClearsWhenItIsThrownAgain() {
    tell("throw t1 reverse");
    pass(3);
    assertEquals(Signal.STOP, aspect());
    pass(2);
    assertEquals("diverging-approach", aspect());
  }

  private void hearServos(String way) {
    box.frameArrived(way, new Message.VerifiedNodeId(SERVOS_ALIAS, SERVOS, false).encode(), nowNs);
  }

  private void hearAllClear() {
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    pass(3);
  }

  private void pass(int seconds) {
    nowNs = DemoField.pass(box, nowNs, seconds);
  }

  private String aspect() {
    return box.interlocking().aspect("t2e");
  }

  private String why(String name) {
    return box.why(name, nowNs).orElseThrow().text();
  }

  private void tell(String sentence) {
    var answer =
        box.tell(
            Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow(),
            nowNs);
    assertTrue(answer.granted(), answer.explanation()::text);
  }
}
