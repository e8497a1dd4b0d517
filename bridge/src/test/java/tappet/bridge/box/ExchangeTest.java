package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Succession;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** New files in a box that runs: what is said on the bus of it, frame by frame. */
class ExchangeTest {

  private static final String CABLE = "the cable";
  private static final String NEED =
      "also:\n  - {signal: %s, needs: section corvane-main is clear}\n";

  private final List<CanFrame> sent = new ArrayList<>();
  private final List<String> files = new ArrayList<>();
  private long nowNs;

  @Test
  void sameFilesTakeOverWithoutAFrame() {
    SignalBox box = ready();
    tell(box, "line t2e to t4e");
    sent.clear();
    Interlocking next = DemoField.interlocking();

    assertEquals(List.of(), exchange(box, next));

    assertSame(next, box.interlocking());
    assertEquals(List.of("the digest"), files);
    assertEquals(List.of(), sent);
    passSeconds(box, 6);
    assertEquals(List.of(), sent);
    assertEquals("approach", box.interlocking().aspect("t2e"));
    box.frameArrived(CABLE, DemoField.occupied("tilling-w"), nowNs);
    assertTrue(sent.stream().anyMatch(frame -> DemoField.shows(frame, "t2e", "stop")));
  }

  // 49 CFR 236.4, from memory: no device is interfered with before trains are seen to be safe.
  @Test
  void rulesOfASignalThatProceedsDoNotTakeOver() {
    SignalBox box = ready();
    tell(box, "line t2e to t4e");
    sent.clear();
    Interlocking running = box.interlocking();

    var against = exchange(box, DemoField.interlocking(NEED.formatted("t2e")));

    assertTrue(against.get(0).toString().contains("t2e-t4e is locked"), against::toString);
    assertTrue(against.get(0).passes());
    assertSame(running, box.interlocking());
    assertEquals(List.of(), sent);
    assertEquals(List.of(), files);
  }

  @Test
  void rulesOfAnotherSignalTakeOverWithoutAFrame() {
    SignalBox box = ready();
    tell(box, "line t2e to t4e");
    sent.clear();
    assertEquals(List.of(), exchange(box, DemoField.interlocking(NEED.formatted("c4w"))));
    assertEquals(List.of(), sent);
    box.frameArrived(CABLE, DemoField.occupied("corvane-main"), nowNs);
    assertTrue(
        box.why("c4w", nowNs).orElseThrow().text().contains("corvane-main"), "the need counts");
  }

  /** A fault on purpose: the new network never comes to rest, while a section is occupied. */
  @Test
  void rulesThatCannotBeginLeaveTheOldOnesAsIfNothingHadBeen() {
    SignalBox box = ready();
    tell(box, "line t2e to t4e");
    box.frameArrived(CABLE, DemoField.occupied("west-main"), nowNs);
    sent.clear();
    Interlocking running = box.interlocking();

    var against = exchange(box, DemoField.swingingWhenOccupied("west-main"));

    assertTrue(against.get(0).words().startsWith("the new rules cannot begin"), against::toString);
    assertFalse(against.get(0).passes());
    assertSame(running, box.interlocking());
    assertEquals(List.of(), sent);
    assertFalse(box.hasFailed());
    assertEquals("approach", box.interlocking().aspect("t2e"));
    assertTrue(tell(box, "cancel t2e"));
  }

  @Test
  void filesThatWereComparedWithOthersDoNotTakeOver() {
    SignalBox box = ready();
    var late = new Succession(box.interlocking(), DemoField.interlocking());
    assertEquals(List.of(), exchange(box, DemoField.interlocking()));
    assertEquals(
        "other files have taken over in between; try again",
        box.exchange(late, "the digest", nowNs).get(0).words());
  }

  // S-9.7.3.1 §6: a node tells others of the events that it has come to produce.
  @Test
  void signalThatIsWiredOtherwiseIsAnnouncedAndToldStop() {
    SignalBox box = ready();
    String event = DemoField.event("c4w", "stop").toString();
    String other = event.substring(0, event.length() - 5) + "7E.7E";
    sent.clear();

    assertEquals(List.of(), exchange(box, DemoField.rewired(event, other)));
    List<CanFrame> told = reports();
    assertEquals(1, told.size(), told::toString);
    assertEquals(
        box.interlocking().layout().signals().get("c4w").shows().get("stop").value(),
        told.get(0).data());
    passSeconds(box, 3);
    assertTrue(
        sent.stream()
            .map(Messages::decode)
            .anyMatch(
                message ->
                    message instanceof Message.ProducerIdentified identified
                        && identified.event().toString().equals(other)),
        "announced");
    assertEquals(told, reports(), "nothing else is told to anybody");
  }

  @Test
  void newFilesAreHeardByTheirEventsWhereNothingCanBeSaid() {
    var box =
        new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, new BoxListener() {});
    box.start(nowNs);
    box.overheard(CABLE, nowNs);
    passSeconds(box, 20);
    String event = new EventId(DemoField.occupied("west-main").data()).toString();
    Interlocking rewired = DemoField.rewired(event, "0A.57.00.00.77.00.00.01");

    assertEquals(List.of(), exchange(box, rewired));
    EventId occupied = rewired.layout().sections().get("west-main").occupied();
    box.frameArrived(CABLE, new Message.EventReport(0x123, occupied).encode(), nowNs);

    assertEquals(Occupancy.OCCUPIED, box.interlocking().occupancy("west-main"));
    assertEquals(List.of(), sent);
  }

  private List<Succession.Reason> exchange(SignalBox box, Interlocking next) {
    return box.exchange(new Succession(box.interlocking(), next), "the digest", nowNs);
  }

  private List<CanFrame> reports() {
    return sent.stream()
        .filter(frame -> Messages.decode(frame) instanceof Message.EventReport)
        .toList();
  }

  private SignalBox ready() {
    var box =
        new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, new BoxListener() {});
    box.tellToo(
        new BoxListener() {
          @Override
          public void exchanged(String digest, long atNs) {
            files.add(digest);
          }
        });
    nowNs = DemoField.makeReady(box, CABLE, nowNs);
    return box;
  }

  private void passSeconds(SignalBox box, int seconds) {
    nowNs = DemoField.pass(box, nowNs, seconds);
  }

  private boolean tell(SignalBox box, String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    return box.tell(command, nowNs).granted();
  }
}
