package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The node under test is 02.01.0D.12.34.56 with alias 458; the peer is 67E. It produces …00.01 and
 * …00.02, consumes …00.03, and both produces and consumes …00.04.
 */
class LccNodeTest {

  private static final String EVENT_1 = "02.01.0D.12.34.56.00.01";
  private static final String EVENT_2 = "02.01.0D.12.34.56.00.02";
  private static final String EVENT_3 = "02.01.0D.12.34.56.00.03";
  private static final String EVENT_4 = "02.01.0D.12.34.56.00.04";

  private static final String[] ALL_IDENTIFIED = {
    ":X19544458N02010D1234560001;",
    ":X19545458N02010D1234560002;",
    ":X19547458N02010D1234560004;",
    ":X194C4458N02010D1234560003;",
    ":X194C7458N02010D1234560004;",
  };

  private final Dialogue dialogue =
      new Dialogue(
          "02.01.0D.12.34.56", List.of(EVENT_1, EVENT_2, EVENT_4), List.of(EVENT_3, EVENT_4));

  LccNodeTest() {
    dialogue.states.put(EventId.of(EVENT_1), Validity.VALID);
    dialogue.states.put(EventId.of(EVENT_2), Validity.INVALID);
    dialogue.states.put(EventId.of(EVENT_3), Validity.VALID);
  }

  // S-9.7.3 §3.2, §3.4.1; S-9.7.3.1 §6
  @Test
  void nodeCompletesInitializationThenAdvertisesThenIsReady() {
    dialogue.start().expect(":X17020458N;", ":X1610D458N;", ":X15123458N;", ":X14456458N;");
    assertFalse(dialogue.node.ready());
    assertFalse(dialogue.node.report(EventId.of(EVENT_1)));
    assertFalse(dialogue.node.identifyProducer(EventId.of(EVENT_3)));
    assertFalse(dialogue.node.identifyConsumer(EventId.of(EVENT_1)));
    dialogue.onReady(() -> assertTrue(dialogue.node.report(EventId.of(EVENT_1)))).pass(1000);
    dialogue.expect(":X10700458N;", ":X10701458N02010D123456;", ":X19100458N02010D123456;");
    dialogue.expect(ALL_IDENTIFIED).expect(":X195B4458N02010D1234560001;").expectSilence();
    assertEquals("ready", dialogue.heard.get(0));
  }

  // lcc.md §2: no document asks for Initialization Complete after a change of alias (S-9.7.3 §3.2)
  @Test
  void newAliasMakesTheNodeReadyAgainWithoutInitializingAgain() {
    dialogue.upAndReady().send(":X10700458N;").pass(1000);
    dialogue.expect(":X10703458N02010D123456;");
    dialogue.expect(":X1702028BN;", ":X1610D28BN;", ":X1512328BN;", ":X1445628BN;");
    dialogue.expect(":X1070028BN;", ":X1070128BN02010D123456;").expectSilence();
    dialogue.expectHeard("ready");
    dialogue.node.report(EventId.of(EVENT_1));
    dialogue.expect(":X195B428BN02010D1234560001;").expectSilence();
  }

  // Common practice, no source: what happens while a node starts again has happened all the same
  @Test
  void nodeThatStartsAgainHearsEventsMeanwhileAndOneThatStopsHearsNoMore() {
    dialogue.upAndReady().start();
    dialogue.send(":X195B467EN02010D1234560003;", ":X1954767EN02010D1234560003;");
    dialogue.expectHeard("report " + EVENT_3, "producer " + EVENT_3 + " UNKNOWN");
    dialogue.node.stop(dialogue.nowNs());
    dialogue.send(":X195B467EN02010D1234560003;").expectHeard();
  }

  // S-9.7.2.1 §5: no message while Inhibited; common practice, no source: it goes on listening
  @Test
  void nodeWithoutAliasHearsButSaysNothing() {
    dialogue.upAndReady().send(":X10700458N;");
    dialogue.expect(":X10703458N02010D123456;");
    dialogue.expect(":X1702028BN;", ":X1610D28BN;", ":X1512328BN;", ":X1445628BN;");
    dialogue.send(":X195B467EN02010D1234560003;", ":X1954467EN02010D1234560003;");
    dialogue.expectHeard("report " + EVENT_3, "producer " + EVENT_3 + " VALID");
    dialogue.send(
        ":X1949067EN;",
        ":X1997067EN;",
        ":X1991467EN02010D1234560001;",
        ":X198F467EN02010D1234560003;",
        ":X1982867EN0458;",
        ":X194E867EN0458;");
    dialogue.expectSilence();
    assertFalse(dialogue.node.report(EventId.of(EVENT_1)));
    dialogue.expectSilence();
  }

  // S-9.7.3 §3.4.2; TN-9.7.3 §2.3.3.2: the id in the addressed form does not matter
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1949067EN;",
        ":X1949067EN02010D123456;",
        ":X0949067EN;",
        ":X1948867EN0458;",
        ":X1948867EN045802010D123456;",
        ":X1948867EN045802010DABCDEF;",
      })
  void verifyNodeIdIsAnswered(String enquiry) {
    dialogue.upAndReady().send(enquiry).expect(":X19170458N02010D123456;").expectSilence();
  }

  // S-9.7.3.1 §6.2
  @ParameterizedTest
  @ValueSource(strings = {":X1997067EN;", ":X1996867EN0458;"})
  void identifyEventsIsAnsweredForAllEvents(String enquiry) {
    dialogue.upAndReady().send(enquiry).expect(ALL_IDENTIFIED).expectSilence();
  }

  // S-9.7.3.1 §4.3, §4.6, §6.3, §6.4: the single form with the state of now
  @Test
  void identifyIsAnsweredWithTheStateOfNow() {
    dialogue.upAndReady().send(":X1991467EN02010D1234560001;");
    dialogue.expect(":X19544458N02010D1234560001;").expectSilence();
    dialogue.states.put(EventId.of(EVENT_1), Validity.INVALID);
    dialogue.send(":X1991467EN02010D1234560001;");
    dialogue.expect(":X19545458N02010D1234560001;").expectSilence();
    dialogue.send(":X198F467EN02010D1234560003;");
    dialogue.expect(":X194C4458N02010D1234560003;").expectSilence();
  }

  // S-9.7.3 §3.3.6, §3.3.7: event exchange and nothing else
  @Test
  void protocolSupportIsToldToWhoAsks() {
    dialogue.upAndReady().send(":X1982867EN0458;").expect(":X19668458N067E040000;");
    dialogue.expectSilence();
  }

  // S-9.7.3 §3.5.1: rejected once a message, with the MTI of what was sent
  @ParameterizedTest
  @CsvSource({
    ":X194E867EN0458;, :X19068458N067E104304E8;",
    ":X19DE867EN0458;, :X19068458N067E10430DE8;",
    ":X19CC867EN0458FFFF;, :X19068458N067E10430CC8;",
    ":X194E867EN145801020304;, :X19068458N067E104304E8;",
    ":X1A45867EN20;, :X19068458N067E10431C48;",
    ":X1B45867EN2040000000FD01;, :X19068458N067E10431C48;",
    ":X1F45867EN00;, :X19068458N067E10431F88;",
  })
  void addressedMessageOfAnotherKindIsRejected(String message, String rejection) {
    dialogue.upAndReady().send(message).expect(rejection).expectSilence();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        // S-9.7.3 §3.3.4, §3.3.5: rejections may be short; they are never rejected themselves
        ":X1906867EN0458104304E8;",
        ":X1906867EN0458;",
        ":X190A867EN04581000;",
        ":X1966867EN0458040000;",
        ":X19A2867EN045800;",
        ":X19A4867EN04582020;",
        // S-9.7.3 §3.4, §3.6: for another alias
        ":X1948867EN0459;",
        ":X1982867EN067E;",
        ":X194E867EN0459;",
        ":X1996867EN0459;",
        ":X1A45967EN20;",
        // S-9.7.3 §3.4.2: for another node id, or an incomplete one
        ":X1949067EN02010DABCDEF;",
        ":X1949067EN02010D1234;",
        // S-9.7.3 §3.5.2: global, unknown
        ":X19ED067EN;",
        ":X1959467EN02010D1234560003;",
        // S-9.7.3 §7.3.1.2: reserved frame formats
        ":X1845867EN;",
        ":X1E45867EN0458;",
        // S-9.7.3 §7.3.1.3: the rest of a message already answered
        ":X194E867EN34580102030405;",
        ":X194E867EN2458;",
        ":X1C45867EN20;",
        ":X1D45867EN20;",
        // no address where one belongs; no sender
        ":X1982867EN;",
        ":X1982867EN04;",
        ":X194E8000N0458;",
        ":X195B4000N02010D1234560003;",
        // S-9.7.3.1 §6.1, §6.3, §6.4: events of others, or the wrong way round
        ":X195B467EN02010D1234560001;",
        ":X195B467EN02010DABCDEF0001;",
        ":X195B467EN02010D123456;",
        ":X1991467EN02010D1234560003;",
        ":X198F467EN02010D1234560001;",
        ":X1991467EN02010DABCDEF0001;",
        ":X1954467EN02010D1234560001;",
        ":X194C467EN02010D1234560003;",
        ":X1952467EN02010D123456FFFF;",
        // S-9.7.3.1 §7: payload that happens to look like a consumed event
        ":X19F1567EN02010D1234560003;",
        ":X19F1467EN02010D1234560003;",
      })
  void whatNeedsNoAnswerGetsNone(String frame) {
    dialogue.upAndReady().send(frame).pass(1000).expectSilence().expectHeard();
    assertTrue(dialogue.node.ready());
  }

  // S-9.7.3.1 §6.1; with payload §7 and TN-9.7.3.1 §2.7; bit 28 S-9.7.2.1 §4
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X195B467EN02010D1234560003;",
        ":X095B467EN02010D1234560003;",
        ":X19F1667EN02010D1234560003;",
      })
  void reportOfConsumedEventReachesTheApplicationEveryTime(String report) {
    dialogue.upAndReady().send(report, report).expectSilence();
    dialogue.expectHeard("report " + EVENT_3, "report " + EVENT_3);
  }

  // TN-9.7.3.1 §2.4.6: an Identified message is never an occurrence of the event
  @Test
  void identifiedStatesReachTheApplicationAsStates() {
    dialogue.upAndReady();
    dialogue.send(
        ":X1954467EN02010D1234560003;",
        ":X1954567EN02010D1234560003;",
        ":X1954767EN02010D1234560003;",
        ":X194C467EN02010D1234560001;",
        ":X194C567EN02010D1234560001;",
        ":X194C767EN02010D1234560001;");
    dialogue.expectHeard(
        "producer " + EVENT_3 + " VALID",
        "producer " + EVENT_3 + " INVALID",
        "producer " + EVENT_3 + " UNKNOWN",
        "consumer " + EVENT_1 + " VALID",
        "consumer " + EVENT_1 + " INVALID",
        "consumer " + EVENT_1 + " UNKNOWN");
    dialogue.expectSilence();
  }

  // S-9.7.3 §3.6: a node takes part in its own messages
  @Test
  void ownMessagesAreHeardAndAnsweredLikeThoseOfOthers() {
    dialogue.upAndReady();
    assertTrue(dialogue.node.report(EventId.of(EVENT_4)));
    dialogue.expect(":X195B4458N02010D1234560004;").expectHeard("report " + EVENT_4);
    assertTrue(dialogue.node.identifyProducer(EventId.of(EVENT_4)));
    dialogue.expect(":X19914458N02010D1234560004;", ":X19547458N02010D1234560004;");
    dialogue.expectHeard("producer " + EVENT_4 + " UNKNOWN");
    assertTrue(dialogue.node.identifyConsumer(EventId.of(EVENT_4)));
    dialogue.expect(":X198F4458N02010D1234560004;", ":X194C7458N02010D1234560004;");
    dialogue.expectHeard("consumer " + EVENT_4 + " UNKNOWN");
    assertTrue(dialogue.node.report(EventId.of(EVENT_1)));
    dialogue.expect(":X195B4458N02010D1234560001;").expectSilence().expectHeard();
  }

  // S-9.7.3.1 §4.5, §4.2
  @Test
  void questionsAboutEventsOfOthersAreSent() {
    dialogue.upAndReady();
    dialogue.node.identifyProducer(EventId.of(EVENT_3));
    dialogue.node.identifyConsumer(EventId.of(EVENT_1));
    dialogue.expect(":X19914458N02010D1234560003;", ":X198F4458N02010D1234560001;");
    dialogue.expectSilence();
  }

  // common practice, no source: one thing after the other, even when answers come at once
  @Test
  void applicationMayReportFromWithinAReport() {
    dialogue.onReport(
        () -> {
          if (dialogue.heard.size() == 1) {
            dialogue.node.report(EventId.of(EVENT_4));
            dialogue.heard.add("end of first");
          }
        });
    dialogue.upAndReady().send(":X195B467EN02010D1234560003;");
    dialogue.expect(":X195B4458N02010D1234560004;").expectSilence();
    dialogue.expectHeard("report " + EVENT_3, "end of first", "report " + EVENT_4);
  }

  // S-9.7.3.1 §6: no report of an event before it has been advertised
  @Test
  void eventOutsideThoseProducedIsAdvertisedBeforeItsReport() {
    dialogue.upAndReady();
    assertTrue(dialogue.node.report(EventId.of("02.01.0D.12.34.56.00.09")));
    dialogue.expect(":X19547458N02010D1234560009;", ":X195B4458N02010D1234560009;");
    dialogue.expectSilence();
  }

  // S-9.7.3 §3.5.4: the id may show in these messages as well; once until reset
  @ParameterizedTest
  @ValueSource(strings = {":X1917067EN02010D123456;", ":X1910167EN02010D123456;"})
  void ownNodeIdInAMessageOfAnotherIsADuplicate(String message) {
    dialogue.upAndReady().send(message);
    dialogue.expect(":X19544458N0101000000000201;", ":X195B4458N0101000000000201;").expectSilence();
    dialogue.send(message, ":X1997067EN;").expectSilence();
    assertTrue(dialogue.node.duplicateNodeId());
  }

  @Test
  void eventsGivenTwiceAreAdvertisedOnce() {
    var twice = new Dialogue("02.01.0D.12.34.56", List.of(EVENT_1, EVENT_1), List.of());
    twice.upAndReady().send(":X1997067EN;").expect(":X19547458N02010D1234560001;").expectSilence();
  }

  // TN-9.7.2.1 §4: nodes must keep up with frames that are not for them
  @Test
  void framesForOthersMakeNoGarbage() {
    dialogue.upAndReady();
    List<CanFrame> others =
        List.of(
            Vectors.frame(":X195B467EN02010DABCDEF0001;"),
            Vectors.frame(":X1991467EN02010DABCDEF0001;"),
            Vectors.frame(":X1982867EN0459;"),
            Vectors.frame(":X1A45967EN20;"),
            Vectors.frame(":X1070167EN02010DABCDEF;"),
            Vectors.frame(":X1070067EN;"));
    pass(others, 1000);
    var threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    long before = threads.getCurrentThreadAllocatedBytes();
    pass(others, 100_000);
    long allocated = threads.getCurrentThreadAllocatedBytes() - before;
    assertTrue(allocated < 100_000, allocated + " bytes for 600,000 frames");
  }

  private void pass(List<CanFrame> frames, int times) {
    for (int count = 0; count < times; count++) {
      for (int index = 0; index < frames.size(); index++) {
        dialogue.node.receive(frames.get(index), count);
      }
    }
  }
}
