package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Message;
import tappet.lcc.NodeId;

/**
 * What any node may tell by an event that means the same everywhere, and what people hear of it.
 */
class NoticesTest {

  private static final int BOARD = 0x7F1;
  private static final int STRANGER = 0x7F2;
  private static final int UNKNOWN = 0x7F3;
  private static final NodeId STRANGERS_ID = NodeId.of("0A.57.00.00.99.01");

  // S-9.7.0.4 §5.2 and §5.3
  private static final EventId BROWN_OUT = EventId.of("01.00.00.00.00.00.FF.F1");
  private static final EventId DUPLICATE_ID = EventId.of("01.01.00.00.00.00.02.01");

  private final RailroadUnderTest railroad = RailroadUnderTest.ready();

  @BeforeEach
  void introduceNodes() {
    NodeId tilling = railroad.interlocking.layout().boards().get("tilling").node();
    railroad.hear(new Message.AliasMapDefinition(BOARD, tilling));
    railroad.hear(new Message.AliasMapDefinition(STRANGER, STRANGERS_ID));
  }

  // S-9.7.0.4 §5.2
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      01.00.00.00.00.00.FF.F8 | has recorded a log entry
      01.00.00.00.00.00.FE.00 | is here: its ident buttons have been pressed
      01.00.00.00.00.00.FD.01 | reports link error 1
      01.00.00.00.00.00.FD.04 | reports link error 4
      """)
  void newsIsToldOnceByTheNodesName(String event, String told) {
    railroad.hear(new Message.EventReport(BOARD, EventId.of(event)));
    assertEquals(1, lines("board tilling (Tilling board) " + told));
    assertEquals(List.of(), railroad.box.alarms());
  }

  // S-9.7.0.4 §5.2
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      01.00.00.00.00.00.FF.F1 | has a brown-out: its supply is below what it needs
      01.00.00.00.00.00.FF.F0 | has a brown-out: its supply is below what a standard requires
      """)
  void brownOutIsAnAlarmThatGoesWhenItIsNotRepeated(String event, String told) {
    List<String> alarm = List.of("board tilling (Tilling board) " + told);
    railroad.hear(new Message.EventReport(BOARD, EventId.of(event)));
    assertEquals(alarm, railroad.box.alarms());
    railroad.passTime(Duration.ofSeconds(40));
    introduceNodes();
    railroad.hear(new Message.EventReport(BOARD, EventId.of(event)));
    railroad.passTime(Duration.ofSeconds(59));
    assertEquals(alarm, railroad.box.alarms());
    railroad.passTime(Duration.ofSeconds(1));
    assertEquals(List.of(), railroad.box.alarms());
    assertEquals(1, lines("ALARM " + alarm.get(0)));
  }

  @Test
  void nodeThatIsNoBoardIsCalledByItsIdOrItsAlias() {
    railroad.hear(new Message.EventReport(STRANGER, BROWN_OUT));
    railroad.hear(new Message.EventReport(UNKNOWN, BROWN_OUT));
    assertTrue(railroad.box.alarms().get(0).startsWith("node 0A.57.00.00.99.01 has a brown-out"));
    assertTrue(railroad.box.alarms().get(1).startsWith("a node of alias 7F3 has a brown-out"));
  }

  // S-9.7.2.1 §6.2.6: the node that tells it is silent until it starts anew.
  @Test
  void duplicateIdIsAnAlarmUntilTheNodeThatMetItStartsAnew() {
    railroad.hear(new Message.EventReport(STRANGER, DUPLICATE_ID));
    railroad.passTime(Duration.ofMinutes(5));
    assertEquals(
        List.of(
            "node 0A.57.00.00.99.01 has met another node with its id: give each its own, and"
                + " restart them"),
        railroad.box.alarms());
    railroad.hear(new Message.InitializationComplete(0x7F5, STRANGERS_ID, false));
    assertEquals(List.of(), railroad.box.alarms());
  }

  @Test
  void otherEventsOfTheSameBlocksTellNothing() {
    int before = railroad.told().length();
    railroad.hear(new Message.EventReport(BOARD, EventId.of("01.00.00.00.00.00.FF.F7")));
    railroad.hear(new Message.ProducerRangeIdentified(BOARD, rangeOfAll()));
    railroad.hear(new Message.IdentifyProducer(BOARD, BROWN_OUT));
    assertEquals(before, railroad.told().length(), railroad::told);
  }

  @ParameterizedTest
  @CsvSource({"01.00.00.00.00.00.FF.F1", "01.01.00.00.00.00.02.01"})
  void nodesThatNeverEndAreNotToldOneByOne(String event) {
    for (int node = 0; node < 1000; node++) {
      railroad.hear(new Message.AliasMapDefinition(STRANGER, new NodeId(0x0A58_0000_0000L + node)));
      railroad.hear(new Message.EventReport(STRANGER, EventId.of(event)));
    }
    List<String> alarms = railroad.box.alarms();
    assertTrue(alarms.size() < 150, () -> alarms.size() + " alarms");
    assertTrue(alarms.contains("there are more alarms of this kind than are told one by one"));
  }

  private static EventRange rangeOfAll() {
    return EventRange.of(NodeId.of("01.00.00.00.00.00"));
  }

  private long lines(String what) {
    return railroad.told().lines().filter(line -> line.endsWith(" " + what)).count();
  }
}
