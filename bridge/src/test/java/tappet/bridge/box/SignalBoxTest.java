package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Answer;
import tappet.layout.Signal;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** The box on virtual time, against frames from boards that are not there. */
class SignalBoxTest {

  private static final String CABLE = "the cable";
  private static final BoxListener NOBODY = new BoxListener() {};

  private final List<CanFrame> sent = new ArrayList<>();
  private long nowNs;

  @Test
  void faultInTheInterlockingPutsEverySignalToStopAndSaysSo() {
    SignalBox box = ready(failingAt(frame -> DemoField.shows(frame, "t2e", "approach")), NOBODY);
    assertTrue(tell(box, "line f2e to t2e").granted());
    assertEquals("approach", box.interlocking().aspect("f2e"));
    sent.clear();

    Answer answer = tell(box, "line t2e to t4e");

    assertFalse(answer.granted());
    assertEquals("the interlocking has failed; restart the daemon\n", answer.explanation().text());
    assertEverySignalWasToldToStop();
    assertEquals(
        List.of("the interlocking has failed: every signal is at stop; restart the daemon"),
        box.alarms());
  }

  @Test
  void failedInterlockingNeverClearsASignalAgain() {
    SignalBox box = ready(failingAt(frame -> DemoField.shows(frame, "t2e", "approach")), NOBODY);
    tell(box, "line t2e to t4e");
    sent.clear();
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    assertFalse(tell(box, "line f2e to t2e").granted());
    passSeconds(box, 60);
    box.connectionUp(CABLE, true, nowNs);
    assertEverySignalWasToldToStop();
    assertEquals(DemoField.signals().size(), reports(), "nothing else was told");
    assertEquals(
        "the interlocking has failed; restart the daemon\n",
        box.why("f2e", nowNs).orElseThrow().text());
  }

  @Test
  void listenerThatFailsIsNoneOfTheBoxsBusiness() {
    SignalBox box = ready(sent::add, new Faulty());
    assertTrue(tell(box, "line t2e to t4e").granted());
    assertTrue(sent.stream().anyMatch(frame -> DemoField.shows(frame, "t2e", "approach")));
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void lossOfInputMakesEverythingUnknownUntilEveryDeviceHasAnswered() {
    SignalBox box = ready(sent::add, NOBODY);
    tell(box, "line t2e to t4e");
    sent.clear();

    box.inputLost(nowNs);

    assertTrue(sent.stream().anyMatch(frame -> DemoField.shows(frame, "t2e", Signal.STOP)));
    passSeconds(box, 1);
    assertEquals(46, sent.stream().filter(SignalBoxTest::asks).count(), "both events a device");
    assertTrue(box.alarms().get(0).startsWith("the daemon was overrun"));
    assertFalse(tell(box, "line f2e to t2e").granted());

    passSeconds(box, 6);
    assertTrue(box.alarms().get(0).startsWith("the daemon was overrun"), "nobody has answered");
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    passSeconds(box, 6);
    assertEquals(List.of(), box.alarms());
    assertEquals(Signal.STOP, box.interlocking().aspect("t2e"));
    assertTrue(tell(box, "line t2e to t4e").granted());
    assertEquals("approach", box.interlocking().aspect("t2e"));
  }

  /** What has happened meanwhile is still to be taken in; 49 CFR 236.5. */
  @Test
  void boxThatStoodStillTrustsNothingItKnew() {
    SignalBox box = ready(sent::add, NOBODY);
    box.frameArrived(CABLE, DemoField.occupied("west-main"), nowNs);
    tell(box, "line t2e to t4e");
    tell(box, "cancel t2e");
    sent.clear();

    nowNs += TimeUnit.SECONDS.toNanos(20);
    box.advance(nowNs);

    assertEquals(List.of("the daemon stood still; every device is asked again"), box.alarms());
    assertFalse(tell(box, "throw t1 reverse").granted());
    assertFalse(tell(box, "line f4e to t2e").granted());
    passSeconds(box, 1);
    assertEquals(46, sent.stream().filter(SignalBoxTest::asks).count(), "both events a device");
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    passSeconds(box, 6);
    assertEquals(List.of(), box.alarms());
    assertTrue(tell(box, "line t2e to t4e").granted());
  }

  // S-9.7.2.1 §6.2.1: an alias counts only where the others have heard it asked for.
  @Test
  void nodeReservesItsAliasWhenSomebodyCanHearIt() {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, NOBODY);
    box.start(nowNs);
    passSeconds(box, 5);
    assertEquals(List.of(), sent);
    box.connectionUp(CABLE, true, nowNs);
    assertEquals(4, sent.size());
    passSeconds(box, 1);
    assertTrue(box.ready());
    assertEverySignalWasToldToStop();
  }

  @Test
  void clientsThatComeAndGoDoNotKeepTheNodeFromItsAlias() {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, NOBODY);
    box.start(nowNs);
    for (int client = 0; client < 20; client++) {
      box.connectionUp("TCP client " + client, false, nowNs);
      nowNs += TimeUnit.MILLISECONDS.toNanos(50);
      box.advance(nowNs);
    }
    assertTrue(box.ready());
  }

  @Test
  void boxThatOnlyHearsKnowsWhatIsReportedAndSaysNothing() {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, NOBODY);
    box.start(nowNs);
    box.overheard(CABLE, nowNs);
    passSeconds(box, 20);
    box.frameArrived(CABLE, DemoField.occupied("west-main"), nowNs);
    passSeconds(box, 60);

    assertEquals(Occupancy.OCCUPIED, box.interlocking().occupancy("west-main"));
    assertEquals(Occupancy.UNKNOWN, box.interlocking().occupancy("mid-east"));
    assertFalse(tell(box, "line t2e to t4e").granted());
    box.connectionDown(CABLE, "has left", true, nowNs);
    assertEquals(Occupancy.UNKNOWN, box.interlocking().occupancy("west-main"));
    box.overheard(CABLE, nowNs);
    box.stop(nowNs);
    assertEquals(List.of(), box.alarms());
    assertFalse(box.ready());
    assertEquals(List.of(), sent);
  }

  @Test
  void nodeThatHasOnlyHeardReservesItsAliasWhenSomebodyCanHearIt() {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, NOBODY);
    box.start(nowNs);
    box.overheard("a bus of others", nowNs);
    box.connectionUp(CABLE, true, nowNs);
    passSeconds(box, 1);
    assertTrue(box.ready());
    assertEverySignalWasToldToStop();
  }

  @Test
  void deviceThatHasNotAnsweredIsAskedAgainEveryFiveSeconds() {
    SignalBox box = ready(sent::add, NOBODY);
    box.connectionDown(CABLE, "has left", true, nowNs);
    DemoField.allClear().stream().skip(1).forEach(frame -> box.frameArrived("new", frame, nowNs));
    sent.clear();
    passSeconds(box, 16);
    assertEquals(3 * 2, sent.stream().filter(SignalBoxTest::asks).count());
  }

  // S-9.7.3.1 §6: the node announces its events anew, and that must not make it forget to ask.
  @Test
  void everyDeviceIsAskedAtOnceWhenAConnectionComesBack() {
    SignalBox box = ready(sent::add, NOBODY);
    box.connectionDown(CABLE, "has left", true, nowNs);
    sent.clear();
    box.connectionUp(CABLE, true, nowNs);
    passSeconds(box, 2);
    assertEquals(46, sent.stream().filter(SignalBoxTest::asks).count(), "both events a device");
  }

  /** What is sent back to the hub by an echo is not heard elsewhere. */
  @Test
  void whatCameByAConnectionThatIsCutOffIsUnknown() {
    SignalBox box = ready(sent::add, NOBODY);
    tell(box, "line t2e to t4e");
    assertEquals("approach", box.interlocking().aspect("t2e"));

    box.cutOff(CABLE, "was cut off: it sends back what it is told", nowNs);

    assertEquals(Signal.STOP, box.interlocking().aspect("t2e"));
    assertFalse(tell(box, "line f2e to t2e").granted());
    assertEquals(Map.of(CABLE, false), box.connections());
    assertEquals(List.of("the cable was cut off: it sends back what it is told"), box.alarms());
    box.connectionUp(CABLE, true, nowNs);
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void devicesBehindARingAreAskedAtOnceByItsOtherWay() {
    SignalBox box = ready(sent::add, NOBODY);
    box.connectionUp("the other way", true, nowNs);
    passSeconds(box, 6);
    sent.clear();

    box.cutOff(CABLE, "was cut off: it forms a ring with the other way", nowNs);
    passSeconds(box, 1);
    assertEquals(46, sent.stream().filter(SignalBoxTest::asks).count(), "both events a device");
    DemoField.allClear().forEach(frame -> box.frameArrived("the other way", frame, nowNs));
    passSeconds(box, 3);
    tell(box, "line t2e to t4e");
    assertEquals("approach", box.interlocking().aspect("t2e"));
  }

  /** One that has just started may not have read its inputs yet, and its one answer may be lost. */
  @Test
  void boardThatComesBackIsAskedUntilItHasAnswered() {
    NodeId node = NodeId.of("0A.57.00.00.09.00");
    String board = "boards:\n  west: {node: %s, carries: [tilling-w]}\n".formatted(node);
    var box =
        new SignalBox(
            DemoField.DAEMON,
            DemoField.undetected("t1", "assumed after: 4 s", board),
            sent::add,
            NOBODY);
    nowNs = DemoField.makeReady(box, CABLE, nowNs);
    passSeconds(box, 11);
    assertEquals(Set.of("west"), box.lostBoards());
    sent.clear();
    CanFrame alive = new Message.VerifiedNodeId(0x456, node, false).encode();

    for (int look = 0; look < 4; look++) {
      box.frameArrived(CABLE, alive, nowNs);
      passSeconds(box, 4);
    }
    assertEquals(
        2 * (1 + 3), sent.stream().filter(SignalBoxTest::asks).count(), "at once, and thrice more");

    box.frameArrived(CABLE, DemoField.clear("tilling-w"), nowNs);
    passSeconds(box, 5);
    sent.clear();
    passSeconds(box, 60);
    assertEquals(0, sent.stream().filter(SignalBoxTest::asks).count());
  }

  @Test
  void endOfTheDaemonLeavesEverySignalAtStop() {
    SignalBox box = ready(sent::add, NOBODY);
    tell(box, "line t2e to t4e");
    sent.clear();
    box.stop(nowNs);
    assertEverySignalWasToldToStop();
  }

  @Test
  void anotherNodeWithTheDaemonsIdRaisesAnAlarm() {
    // S-9.7.2.1 §6.2.6: the node falls silent and its user should be told.
    SignalBox box = ready(sent::add, NOBODY);
    CanFrame twin = new Message.InitializationComplete(0x321, DemoField.DAEMON, false).encode();
    box.frameArrived(CABLE, twin, nowNs);
    assertFalse(box.ready());
    assertTrue(
        box.alarms().get(0).startsWith("another node uses the daemon's id 0A.57.00.00.00.01"),
        box.alarms()::toString);
  }

  @Test
  void visitorThatLeavesAgainAndAgainIsOneAlarmUntilEveryDeviceHasAnswered() {
    SignalBox box = ready(sent::add, NOBODY);
    for (int port = 5000; port < 5020; port++) {
      String visitor = "TCP client 10.0.0.7:" + port;
      box.connectionUp(visitor, false, nowNs);
      box.frameArrived(visitor, DemoField.clear("west-main"), nowNs);
      box.connectionDown(visitor, port % 2 == 0 ? "has left" : "broke: reset", false, nowNs);
    }
    assertEquals(
        List.of("TCP client 10.0.0.7 broke: reset; what came by it is unknown"), box.alarms());

    box.connectionUp("TCP client 10.0.0.7:6000", false, nowNs);
    passSeconds(box, 6);
    assertEquals(1, box.alarms().size(), "nobody has answered");
    box.frameArrived(CABLE, DemoField.clear("west-main"), nowNs);
    passSeconds(box, 6);
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void visitorThatJoinsAgainAndAgainFillsNoBus() {
    SignalBox box = ready(sent::add, NOBODY);
    sent.clear();
    box.connectionUp("TCP client 10.0.0.7:5000", false, nowNs);
    assertEquals(1, timesToldToStop("t2e"), "the first is told at once");

    for (int port = 5001; port < 5090; port++) {
      nowNs += TimeUnit.MILLISECONDS.toNanos(10);
      box.advance(nowNs);
      box.connectionUp("TCP client 10.0.0.7:" + port, false, nowNs);
      box.connectionDown("TCP client 10.0.0.7:" + port, "has left", false, nowNs);
    }
    assertEquals(1, timesToldToStop("t2e"));

    passSeconds(box, 1);
    assertEquals(2, timesToldToStop("t2e"), "so is the last, before the second is over");
    passSeconds(box, 5);
    assertEquals(2, timesToldToStop("t2e"));
  }

  @Test
  void visitorThatJoinsAgainAndAgainKeepsNoAlarmStanding() {
    SignalBox box = ready(sent::add, NOBODY);
    box.inputLost(nowNs);
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    for (int port = 5000; port < 5010; port++) {
      box.connectionUp("TCP client 10.0.0.7:" + port, false, nowNs);
      box.connectionDown("TCP client 10.0.0.7:" + port, "has left", false, nowNs);
      passSeconds(box, 1);
    }
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void lineThatTheSettingsAskForIsToldAtOnceEachTime() {
    SignalBox box = ready(sent::add, NOBODY);
    sent.clear();
    for (int times = 0; times < 3; times++) {
      box.connectionDown(CABLE, "was pulled", true, nowNs);
      box.connectionUp(CABLE, true, nowNs);
    }
    assertEquals(3, timesToldToStop("t2e"));
  }

  private long timesToldToStop(String signal) {
    return sent.stream().filter(frame -> DemoField.shows(frame, signal, Signal.STOP)).count();
  }

  @Test
  void alarmsOfAVisitorGoWithIt() {
    SignalBox box = ready(sent::add, NOBODY);
    box.connectionUp("TCP client 10.0.0.7:5000", false, nowNs);
    box.cutOff("TCP client 10.0.0.7:5000", "was cut off: it forms a ring with the cable", nowNs);
    box.connectionDown("TCP client 10.0.0.7:5000", "has left", false, nowNs);
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void echoOfTheDaemonsOwnFramesRaisesNoAlarm() {
    SignalBox box = ready(sent::add, NOBODY);
    List<CanFrame> said = List.copyOf(sent);
    said.forEach(frame -> box.frameArrived("another way", frame, nowNs));
    passSeconds(box, 1);
    said.forEach(frame -> box.frameArrived("another way", frame, nowNs));
    assertTrue(box.ready());
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void alarmOfATwinSaysThatTheDaemonIsSilentOnlyIfItIsAndGoesWhenItSpeaksAgain() {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), sent::add, NOBODY);
    box.start(nowNs);
    box.connectionUp(CABLE, true, nowNs);
    CanFrame twin = new Message.AliasMapDefinition(0x321, DemoField.DAEMON).encode();
    box.frameArrived(CABLE, twin, nowNs);
    assertEquals(
        List.of(
            "another node uses the daemon's id 0A.57.00.00.00.01; give each its own, and restart"),
        box.alarms());

    box.connectionUp("another way", true, nowNs);
    passSeconds(box, 1);
    assertTrue(box.ready());
    assertEquals(List.of(), box.alarms());

    box.frameArrived(CABLE, twin, nowNs);
    assertFalse(box.ready());
    assertEquals(
        List.of(
            "another node uses the daemon's id 0A.57.00.00.00.01: the daemon is silent; give each"
                + " its own, and restart"),
        box.alarms());
  }

  private SignalBox ready(Consumer<CanFrame> toBus, BoxListener listener) {
    var box = new SignalBox(DemoField.DAEMON, DemoField.interlocking(), toBus, listener);
    nowNs = DemoField.makeReady(box, CABLE, nowNs);
    return box;
  }

  private void passSeconds(SignalBox box, int seconds) {
    nowNs = DemoField.pass(box, nowNs, seconds);
  }

  /** A bus that throws at one frame: a fault in the midst of carrying out a step. */
  private Consumer<CanFrame> failingAt(Predicate<CanFrame> here) {
    return frame -> {
      if (here.test(frame)) {
        throw new IllegalStateException("a fault, on purpose");
      }
      sent.add(frame);
    };
  }

  private Answer tell(SignalBox box, String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    return box.tell(command, nowNs);
  }

  private void assertEverySignalWasToldToStop() {
    for (String signal : DemoField.signals()) {
      assertTrue(
          sent.stream().anyMatch(frame -> DemoField.shows(frame, signal, Signal.STOP)), signal);
    }
  }

  private long reports() {
    return sent.stream()
        .map(Messages::decode)
        .filter(Message.EventReport.class::isInstance)
        .count();
  }

  private static boolean asks(CanFrame frame) {
    return Messages.decode(frame) instanceof Message.IdentifyProducer;
  }

  private static final class Faulty implements BoxListener {
    @Override
    public void frameHeard(String origin, CanFrame frame, long nowNs) {
      throw new IllegalStateException("a fault, on purpose");
    }

    @Override
    public void frameSent(CanFrame frame, long nowNs) {
      throw new IllegalStateException("a fault, on purpose");
    }

    @Override
    public void changed(String what) {
      throw new IllegalStateException("a fault, on purpose");
    }
  }
}
