package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A node with a thousand events on a bus that others want to use as well. */
class PaceTest {

  private static final long MS = 1_000_000;
  private static final int EVENTS = 1000;

  /** lcc.md §1.1 (computed from ISO 11898-1): eight data bytes, stuffed to the worst. */
  private static final double WORST_FRAME_MS = 1.28;

  private record Sent(long atNs, Message message) {}

  private final List<Sent> sent = new ArrayList<>();
  private final Owner owner = new Owner();
  private final LccNode node =
      new LccNode(NodeId.of("02.01.0D.12.34.56"), owner, frame -> record(frame));
  private long nowNs;

  private void record(CanFrame frame) {
    sent.add(new Sent(nowNs, Messages.decode(frame)));
  }

  private static EventId event(int number) {
    return new EventId(0x02010D1234560000L + number);
  }

  private static final class Owner implements LccNode.Application {

    @Override
    public List<EventId> produced() {
      return IntStream.range(0, EVENTS / 2).mapToObj(PaceTest::event).toList();
    }

    @Override
    public List<EventId> consumed() {
      return IntStream.range(EVENTS / 2, EVENTS).mapToObj(PaceTest::event).toList();
    }

    @Override
    public Validity producerState(EventId event) {
      return Validity.VALID;
    }

    @Override
    public Validity consumerState(EventId event) {
      return Validity.UNKNOWN;
    }

    @Override
    public void ready(long nowNs) {}

    @Override
    public void eventReported(EventId event, long nowNs) {}

    @Override
    public void producerIdentified(EventId event, Validity validity, long nowNs) {}

    @Override
    public void consumerIdentified(EventId event, Validity validity, long nowNs) {}
  }

  private void pass(long milliseconds) {
    long untilNs = nowNs + milliseconds * MS;
    while (node.deadlineNs().orElse(Long.MAX_VALUE) <= untilNs) {
      nowNs = Math.max(nowNs, node.deadlineNs().getAsLong());
      node.advance(nowNs);
    }
    nowNs = untilNs;
  }

  private void up() {
    node.start(nowNs);
    pass(10_000);
    assertEquals(EVENTS, identified().size());
    assertShareIsKept();
    sent.clear();
  }

  private Set<EventId> identified() {
    Set<EventId> events = new HashSet<>();
    for (Sent frame : sent) {
      if (frame.message() instanceof Message.ProducerIdentified identified) {
        events.add(identified.event());
      } else if (frame.message() instanceof Message.ConsumerIdentified identified) {
        events.add(identified.event());
      }
    }
    return events;
  }

  /** Every window of 50 ms begins, at the worst, with a frame. */
  private void assertShareIsKept() {
    for (int from = 0; from < sent.size(); from++) {
      long endNs = sent.get(from).atNs() + 50 * MS;
      int to = from;
      while (to < sent.size() && sent.get(to).atNs() < endNs) {
        to++;
      }
      assertTrue((to - from) * WORST_FRAME_MS < 25, (to - from) + " frames in 50 ms");
    }
  }

  // S-9.7.1.1 §5: 125 kbit/s; S-9.7.3.1 §6.2; the share is common practice, no source
  @ParameterizedTest
  @ValueSource(strings = {":X1997067EN;", ":X1996867EN0458;"})
  void thousandEventsAreIdentifiedWithinHalfOfTheBusInAnyFiftyMilliseconds(String enquiry) {
    up();
    node.receive(Vectors.frame(enquiry), nowNs);
    pass(4_000);
    assertEquals(EVENTS, sent.size());
    assertEquals(EVENTS, identified().size());
    assertShareIsKept();
  }

  // S-9.7.3 §3.7: 750 ms; the pace allows for 270 answers in that time
  @Test
  void twoHundredAndSeventyAnswersLeaveInTime() {
    up();
    node.receive(Vectors.frame(":X1997067EN;"), nowNs);
    pass(750);
    assertTrue(sent.size() >= 270, sent.size() + " answers");
  }

  // S-9.7.3 §3.4.2: several requests may be answered by one message
  @Test
  void askingAgainAndAgainNeitherPilesUpNorStarvesAnyEvent() {
    up();
    for (int count = 0; count < 300; count++) {
      node.receive(Vectors.frame(":X1997067EN;"), nowNs);
      pass(10);
    }
    assertEquals(EVENTS, identified().size());
    assertShareIsKept();
    pass(4_000);
    assertTrue(node.deadlineNs().isEmpty());
  }

  // common practice, no source: what happens on the railroad does not wait for answers
  @Test
  void reportsDoNotWaitForAnswers() {
    up();
    node.receive(Vectors.frame(":X1997067EN;"), nowNs);
    pass(60);
    int before = sent.size();
    assertTrue(node.report(event(400)));
    assertEquals(nowNs, sent.get(sent.size() - 1).atNs());
    assertEquals(new Message.EventReport(0x458, event(400)), sent.get(sent.size() - 1).message());
    assertTrue(sent.size() > before);
  }

  // S-9.7.3.1 §6: no report of an event before it has been announced
  @Test
  void eventWhoseAnnouncementStillWaitsIsAnnouncedBeforeItsReport() {
    node.start(nowNs);
    pass(300);
    assertTrue(node.ready() && identified().size() < EVENTS);
    node.report(event(499));
    assertEquals(
        List.of(
            new Message.ProducerIdentified(0x458, event(499), Validity.VALID),
            new Message.EventReport(0x458, event(499))),
        sent.stream().map(Sent::message).skip(sent.size() - 2L).toList());
    pass(4_000);
    assertEquals(1, sent.stream().filter(this::announcesTheLastProducer).count());
  }

  private boolean announcesTheLastProducer(Sent frame) {
    return frame.message() instanceof Message.ProducerIdentified identified
        && identified.event().equals(event(499));
  }

  // S-9.7.2.1 §6.2.1, §6.2.5: alias and control frames do not wait
  @Test
  void aliasIsDefendedWhileAnswersWait() {
    up();
    node.receive(Vectors.frame(":X1997067EN;"), nowNs);
    node.receive(Vectors.frame(":X17ABC458N;"), nowNs);
    assertEquals(new Message.ReserveId(0x458), sent.get(sent.size() - 1).message());
  }

  // common practice, no source: the node's own questions keep the pace too
  @Test
  void ownEnquiriesKeepTheShare() {
    up();
    for (int number = 2000; number < 3000; number++) {
      assertTrue(node.identifyProducer(event(number)));
    }
    pass(4_000);
    assertEquals(1000, sent.size());
    assertShareIsKept();
  }

  // S-9.7.2.1 §5, S-9.7.3 §3.4.1: what waits goes out under the new alias, after it is reserved
  @Test
  void whatWaitsOutlivesAChangeOfAlias() {
    up();
    node.receive(Vectors.frame(":X1997067EN;"), nowNs);
    node.receive(Vectors.frame(":X10700458N;"), nowNs);
    int before = sent.size();
    pass(5_000);
    assertEquals(0x28B, node.alias());
    assertEquals(EVENTS, identified().size());
    sent.stream().skip(before).forEach(frame -> assertEquals(0x28B, frame.message().source()));
  }
}
