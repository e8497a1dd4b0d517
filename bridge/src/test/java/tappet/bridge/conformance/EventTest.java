package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.bridge.conformance.BirchHollow.EMERGENCY_OFF;
import static tappet.bridge.conformance.BirchHollow.EMERGENCY_OFF_CLEARED;
import static tappet.bridge.conformance.BirchHollow.EMERGENCY_STOP;
import static tappet.bridge.conformance.BirchHollow.EMERGENCY_STOP_CLEARED;
import static tappet.bridge.conformance.BirchHollow.MAIN_CLEAR;
import static tappet.bridge.conformance.BirchHollow.MAIN_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.SIDING_CLEAR;
import static tappet.bridge.conformance.BirchHollow.SIDING_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.W1_TO_NORMAL;
import static tappet.bridge.conformance.BirchHollow.W2E_APPROACH;
import static tappet.bridge.conformance.BirchHollow.W2E_STOP;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.JavaProcess;

/** Event transport (S-9.7.3.1), with a signal and its sections as producer and consumers. */
class EventTest extends Bench {

  private static final String UNKNOWN = "0A5700000F007777";

  @Test
  @Checks({41})
  void tellsAsProducerWhatItsSignalShowsNow() {
    // S-9.7.3.1 §4.6, §6.3
    tester.send("19914ttt" + W2E_STOP);
    tester.expect("19544ddd" + W2E_STOP);
    tester.send("19914ttt" + W2E_APPROACH);
    tester.expect("19545ddd" + W2E_APPROACH);
    lineToMain();
    tester.send("19914ttt" + W2E_STOP);
    tester.expect("19545ddd" + W2E_STOP);
    tester.send("19914ttt" + W2E_APPROACH);
    tester.expect("19544ddd" + W2E_APPROACH);
    cancel();
  }

  @Test
  @Checks({41})
  void cannotTellOfASwitchThatItHasNotMovedYet() {
    // S-9.7.3.1 §4.6: unknown is 0x547
    tester.send("19914ttt" + W1_TO_NORMAL);
    tester.expect("1954[457]ddd" + W1_TO_NORMAL);
  }

  @Test
  @Checks({42})
  void tellsAsConsumerWhatItWasToldLast() {
    // S-9.7.3.1 §4.3, §6.4
    tester.send("198F4ttt" + MAIN_OCCUPIED);
    tester.expect("194C5ddd" + MAIN_OCCUPIED);
    tester.send("195B4ttt" + MAIN_OCCUPIED, "198F4ttt" + MAIN_OCCUPIED, "198F4ttt" + MAIN_CLEAR);
    tester.expect("194C4ddd" + MAIN_OCCUPIED);
    tester.expect("194C5ddd" + MAIN_CLEAR);
    tester.send("195B4ttt" + MAIN_CLEAR, "198F4ttt" + MAIN_OCCUPIED, "198F4ttt" + MAIN_CLEAR);
    tester.expect("194C5ddd" + MAIN_OCCUPIED);
    tester.expect("194C4ddd" + MAIN_CLEAR);
  }

  @ParameterizedTest
  @ValueSource(strings = {"19914ttt" + UNKNOWN, "198F4ttt" + UNKNOWN, "198F4ttt" + W2E_STOP})
  @Checks({43})
  void isSilentOnEventsItHasNoPartIn(String enquiry) {
    // S-9.7.3.1 §6.3, §6.4; the answer to a known event would come after that to an unknown one
    tester.send(enquiry, "19914ttt" + MAIN_OCCUPIED, "198F4ttt" + MAIN_OCCUPIED);
    tester.expect("194C5ddd" + MAIN_OCCUPIED);
  }

  @ParameterizedTest
  @ValueSource(strings = {"19968ttt 0ddd", "19970ttt"})
  @Checks({44})
  void tellsAllItsEventsWhenAsked(String enquiry) {
    // S-9.7.3.1 §6.2
    tester.send(enquiry);
    Set<String> produced = new LinkedHashSet<>(BirchHollow.PRODUCED);
    Set<String> consumed = new LinkedHashSet<>(BirchHollow.CONSUMED);
    while (!produced.isEmpty() || !consumed.isEmpty()) {
      Heard heard = tester.hear();
      assertTrue(tester.matches(heard, "19(4C|54)[457]ddd *"), heard::toString);
      boolean producer = heard.header().startsWith("1954");
      (producer ? produced : consumed).remove(heard.data());
    }
  }

  @Test
  @Checks({44})
  void tellsNoEventsWhenAnotherIsAsked() {
    // S-9.7.3.1 §6.2
    tester.send("19968ttt 0uuu", "198F4ttt" + MAIN_CLEAR);
    tester.expect("194C4ddd" + MAIN_CLEAR);
    tester.sendInVain();
  }

  @ParameterizedTest
  @ValueSource(strings = {"195B4ttt", "195B4uuu"})
  @Checks({45})
  void reportPutsASignalToStopWhoeverSendsIt(String header) {
    // S-9.7.3.1 §6.1
    lineToMain();
    tester.sendInVain(header + UNKNOWN, header + W2E_STOP, header + MAIN_CLEAR);
    tester.send(header + MAIN_OCCUPIED);
    tester.expect("195B4ddd" + W2E_STOP);
    cancel();
  }

  @Test
  @Checks({46})
  void reportWithPayloadPutsASignalToStopAsWell() {
    // S-9.7.3.1 §6.1, TN-9.7.3.1 §2.7
    lineToMain();
    tester.send("19F16ttt" + MAIN_OCCUPIED, "19F14ttt 01");
    tester.expect("195B4ddd" + W2E_STOP);
    cancel();
  }

  @Test
  @Checks({46, 47})
  void overlappingReportsWithPayloadAreBothHeard() {
    // S-9.7.3.1 §7; the first payload looks like an event of the layout, and is none
    tester.send(
        "19F16ttt" + MAIN_OCCUPIED,
        "19F16uuu" + SIDING_OCCUPIED,
        "19F15ttt" + SIDING_CLEAR,
        "19F14uuu 01",
        "19F14ttt" + MAIN_CLEAR,
        "198F4ttt" + MAIN_OCCUPIED,
        "198F4ttt" + SIDING_OCCUPIED);
    tester.expect("194C4ddd" + MAIN_OCCUPIED);
    tester.expect("194C4ddd" + SIDING_OCCUPIED);
  }

  @Test
  @Checks({49})
  void identifiedMessageIsNoReport() {
    // TN-9.7.3.1 §2.4.6: no consumer's word stops a signal, no word at all calls an emergency
    lineToMain();
    tester.sendInVain("194C4ttt" + MAIN_OCCUPIED, "194C5ttt" + MAIN_CLEAR, "194C4ttt" + W2E_STOP);
    tester.sendInVain("19544ttt" + EMERGENCY_OFF, "194C4ttt" + EMERGENCY_STOP);
    cancel();
  }

  @Test
  @Checks({49, 54})
  void identifiedMessageDoesNotClearAnEmergency() {
    // TN-9.7.3.1 §2.4.6: a node that starts tells that all is well with it; nothing has happened
    tester.send("195B4ttt" + EMERGENCY_OFF);
    tester.sendInVain("19544ttt" + EMERGENCY_OFF_CLEARED, "19545ttt" + EMERGENCY_OFF);
    String answer = dut.tell("line w2e to main-end");
    assertTrue(answer.startsWith("refused"), answer);
    tester.send("195B4ttt" + EMERGENCY_OFF_CLEARED);
    lineToMain();
    cancel();
  }

  @Test
  @Checks({50})
  void tellsOnlyRangesThatStandardsPermit() {
    // S-9.7.3.1 §4.4, §4.7: none, or those of a whole clock (S-9.7.4.5 §6.1)
    tester.send("19968ttt 0ddd", "19488ttt 0ddd");
    List<Heard> told = tester.hearUntil("19(4C|54)[457]ddd" + SIDING_CLEAR);
    assertTrue(
        told.stream()
            .filter(heard -> tester.matches(heard, "19(4A|52)4ddd *"))
            .allMatch(heard -> heard.data().matches("0101000001(00FFFF|010000|02FFFF|030000)")),
        told::toString);
    tester.settle();
  }

  @Test
  @Checks({52})
  void isNotTaughtByLearnEvent() {
    // S-9.7.3.1 §6.5: events stand in the owner's files
    tester.send("19594ttt" + UNKNOWN, "19594ttt" + MAIN_OCCUPIED, "198F4ttt" + UNKNOWN);
    tester.send("198F4ttt" + MAIN_OCCUPIED);
    tester.expect("194C5ddd" + MAIN_OCCUPIED);
    tester.sendInVain();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        EMERGENCY_OFF + EMERGENCY_OFF_CLEARED,
        EMERGENCY_STOP + EMERGENCY_STOP_CLEARED,
      })
  @Checks({45, 54})
  void emergencyPutsSignalsToStopUntilItIsCleared(String events) {
    // S-9.7.0.4 §5.2, TN-9.7.0.4 §2.5.2: nothing is lined meanwhile; clearing lets it be lined
    // again
    lineToMain();
    tester.send("195B4ttt" + events.substring(0, 16));
    tester.expect("195B4ddd" + W2E_STOP);
    String answer = dut.tell("line w2e to main-end");
    assertTrue(answer.startsWith("refused"), answer);
    tester.sendInVain("195B4ttt" + events.substring(16));
    cancel();
    lineToMain();
    cancel();
  }

  /** Lines the route and hears its signal clear; sections count as vacant only after a while. */
  private static void lineToMain() {
    awaitDone("line w2e to main-end");
    tester.hearUntil("195B4ddd" + W2E_APPROACH);
    tester.settle();
  }

  private static void cancel() {
    dut.tell("cancel w2e");
    Awaitility.await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> dut.why("w2e"), why -> why.contains("can be lined") || !why.contains("held"));
    tester.send(BirchHollow.quietField());
    tester.settle();
  }

  private static void awaitDone(String sentence) {
    Awaitility.await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> dut.tell(sentence), answer -> !answer.startsWith("refused"));
  }

  @Test
  @Checks({45})
  void reportThatChangesNothingIsPassedOver() {
    // S-9.7.3.1 §6.1; repeated reports are legal, TN-9.7.3.1 §3.1
    lineToMain();
    tester.sendInVain("195B4ttt" + MAIN_CLEAR, "195B4ttt" + MAIN_CLEAR);
    assertEquals("", dut.process().isAlive() ? "" : "gone");
    cancel();
  }
}
