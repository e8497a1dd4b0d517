package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The node under test is 02.01.0D.12.34.56 with alias 458; the peer is 67E. It produces …00.10 to
 * …00.1F and …01.00, and consumes all events of 02.01.0D.AB.CD.EF and …01.01.
 */
class EventRangesOfANodeTest {

  private final List<String> produced = new ArrayList<>(List.of("02.01.0D.12.34.56.01.00"));
  private final Dialogue dialogue = dialogue();

  private Dialogue dialogue() {
    var first = EventId.of("02.01.0D.12.34.56.00.10");
    return new Dialogue("02.01.0D.12.34.56", produced, List.of("02.01.0D.12.34.56.01.01"))
        .produceAll(new EventRange(first, 4))
        .consumeAll(EventRange.of(NodeId.of("02.01.0D.AB.CD.EF")));
  }

  private static final String[] ALL = {
    ":X19524458N02010D1234560010;",
    ":X194A4458N02010DABCDEF0000;",
    ":X19547458N02010D1234560100;",
    ":X194C7458N02010D1234560101;",
  };

  // S-9.7.3.1 §6: after Initialization Complete, ranges as well as single events
  @Test
  void rangesAreAnnouncedAtTheStart() {
    dialogue.start().pass(1000);
    List<String> said = dialogue.takeSaid();
    assertEquals(":X19100458N02010D123456;", said.get(6));
    assertEquals(List.of(ALL), said.subList(7, said.size()));
  }

  // S-9.7.3.1 §6.2: together the answers cover all events
  @ParameterizedTest
  @ValueSource(strings = {":X1997067EN;", ":X1996867EN0458;"})
  void identifyEventsIsAnsweredWithRangesAndSingleEvents(String enquiry) {
    dialogue.upAndReady().send(enquiry).expect(ALL).expectSilence();
  }

  // S-9.7.3.1 §6.3, §6.4: the single form for an event inside a range; silence outside
  @ParameterizedTest
  @CsvSource({
    ":X1991467EN02010D1234560010;, :X19544458N02010D1234560010;",
    ":X1991467EN02010D123456001F;, :X19547458N02010D123456001F;",
    ":X1991467EN02010D1234560020;, ",
    ":X1991467EN02010DABCDEF0020;, ",
    ":X198F467EN02010DABCDEFFFFF;, :X194C7458N02010DABCDEFFFFF;",
    ":X198F467EN02010D1234560010;, ",
  })
  void eventInARangeIsIdentifiedInTheSingleForm(String enquiry, String answer) {
    dialogue.states.put(EventId.of("02.01.0D.12.34.56.00.10"), Validity.VALID);
    dialogue.upAndReady().send(enquiry);
    if (answer != null) {
      dialogue.expect(answer);
    }
    dialogue.expectSilence();
  }

  // S-9.7.3.1 §6.1; TN-9.7.3.1 §2.4.6: a range that is told is neither an event nor its state
  @Test
  void eventsOfARangeAreHeard() {
    dialogue.upAndReady().send(":X195B467EN02010DABCDEF0000;", ":X1954467EN02010DABCDEF1234;");
    dialogue.send(":X194C567EN02010D1234560011;", ":X195B467EN02010DABCDF00000;");
    dialogue.send(":X1952467EN02010DABCDEF0000;", ":X194A467EN02010D1234560010;");
    dialogue.expectHeard(
        "report 02.01.0D.AB.CD.EF.00.00",
        "producer 02.01.0D.AB.CD.EF.12.34 VALID",
        "consumer 02.01.0D.12.34.56.00.11 INVALID");
    dialogue.expectSilence();
  }

  // S-9.7.3.1 §6: the range has announced it
  @Test
  void eventOfAnAnnouncedRangeIsReportedWithoutMore() {
    dialogue.upAndReady();
    assertTrue(dialogue.node.report(EventId.of("02.01.0D.12.34.56.00.1A")));
    dialogue.expect(":X195B4458N02010D123456001A;").expectSilence();
  }

  // S-9.7.3.1 §6; TN-9.7.3.1 §2.6: an event added by configuration is announced before its use
  @Test
  void eventAddedLaterIsAnnouncedBeforeItsUse() {
    var growing = new Dialogue("02.01.0D.12.34.56", List.of(), List.of());
    growing.upAndReady();
    growing.produceAll(new EventRange(EventId.of("02.01.0D.12.34.56.00.10"), 4));
    growing.node.announceAgain(growing.nowNs());
    growing.expect(":X19100458N02010D123456;", ":X19524458N02010D1234560010;");
    growing.node.report(EventId.of("02.01.0D.12.34.56.00.1A"));
    growing.expect(":X195B4458N02010D123456001A;").expectSilence();
  }

  // S-9.7.3.1 §6.5: may be ignored, and is
  @Test
  void taughtEventChangesNothing() {
    dialogue.upAndReady().send(":X1959467EN02010DABCDEF0001;").expectSilence().expectHeard();
    dialogue.send(":X1997067EN;").expect(ALL).expectSilence();
  }
}
