package tappet.lcc.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.FrameText;
import tappet.lcc.LccNode;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.lcc.Vectors;
import tappet.lcc.clock.ClockEvent.Rate;

/** A clock and its node together: the generator has alias 458, as in the published example. */
class ClockNodeTest {

  private static final JsonNode VECTORS = Vectors.read("broadcast-time.json");
  private static final long SECOND = 1_000_000_000L;

  private final List<String> said = new ArrayList<>();
  private long nowNs;

  /** How an owner wires a clock to its node. */
  private abstract class ClockNode implements LccNode.Application, ClockVoice {

    final LccNode node;

    ClockNode(String id) {
      this.node = new LccNode(NodeId.of(id), this, frame -> said.add(FrameText.encode(frame)));
    }

    abstract void advanceClock();

    abstract OptionalLong clockDeadlineNs();

    void pass(double seconds) {
      long untilNs = nowNs + (long) (seconds * SECOND);
      while (nextNs() <= untilNs) {
        nowNs = Math.max(nowNs, nextNs());
        node.advance(nowNs);
        advanceClock();
      }
      nowNs = untilNs;
    }

    private long nextNs() {
      return Math.min(
          node.deadlineNs().orElse(Long.MAX_VALUE), clockDeadlineNs().orElse(Long.MAX_VALUE));
    }

    @Override
    public void report(EventId event) {
      node.report(event);
    }

    @Override
    public void identify(EventId event) {
      node.tellProducer(event, Validity.VALID, nowNs);
    }

    @Override
    public List<EventId> produced() {
      return List.of();
    }

    @Override
    public List<EventId> consumed() {
      return List.of();
    }

    @Override
    public Validity producerState(EventId event) {
      return Validity.UNKNOWN;
    }

    @Override
    public Validity consumerState(EventId event) {
      return Validity.UNKNOWN;
    }

    @Override
    public void producerIdentified(EventId event, Validity validity, long nowNs) {}

    @Override
    public void consumerIdentified(EventId event, Validity validity, long nowNs) {}
  }

  private final class Generating extends ClockNode {

    final ClockGenerator clock =
        new ClockGenerator(
            ClockId.DEFAULT_FAST,
            new ClockReading(LocalDateTime.parse("1953-10-03T08:10"), new Rate(16), true),
            this);

    Generating() {
      super("02.01.0D.12.34.56");
    }

    @Override
    void advanceClock() {
      clock.advance(nowNs);
    }

    @Override
    OptionalLong clockDeadlineNs() {
      return clock.deadlineNs();
    }

    @Override
    public List<EventRange> producedRanges() {
      return List.of(clock.range());
    }

    @Override
    public List<EventRange> consumedRanges() {
      return List.of(clock.range());
    }

    @Override
    public Validity producerState(EventId event) {
      return clock.producerState(event, nowNs);
    }

    @Override
    public void ready(long readyNs) {
      clock.start(readyNs);
    }

    @Override
    public void eventReported(EventId event, long heardNs) {
      clock.eventReported(event, heardNs);
    }

    @Override
    public void consumerIdentified(EventId event, Validity validity, long heardNs) {
      clock.consumerIdentified(event);
    }
  }

  private final class Following extends ClockNode {

    final ClockFollower clock = new ClockFollower(ClockId.DEFAULT_FAST, this);

    Following() {
      super("02.01.0D.12.34.56");
    }

    @Override
    void advanceClock() {
      clock.advance(nowNs);
    }

    @Override
    OptionalLong clockDeadlineNs() {
      return clock.deadlineNs();
    }

    @Override
    public List<EventId> produced() {
      return clock.produced();
    }

    @Override
    public List<EventRange> consumedRanges() {
      return List.of(clock.range());
    }

    @Override
    public void ready(long readyNs) {
      clock.start(readyNs);
    }

    @Override
    public void eventReported(EventId event, long heardNs) {
      clock.eventReported(event, heardNs);
    }

    @Override
    public void producerIdentified(EventId event, Validity validity, long heardNs) {
      if (validity == Validity.VALID) {
        clock.producerIdentifiedValid(event, heardNs);
      }
    }
  }

  private void hear(ClockNode to, String text) {
    CanFrame frame = Vectors.frame(text);
    to.node.receive(frame, nowNs);
  }

  private static List<String> texts(JsonNode array) {
    return Vectors.rows(array).map(JsonNode::asText).toList();
  }

  // S-9.7.4.5 §6.1, §6.3; S-9.7.3.1 §6: the whole clock announced, then the sequence
  @Test
  void generatorAnnouncesItsWholeClockAndThenSynchronizes() {
    var generator = new Generating();
    generator.node.start(nowNs);
    generator.pass(0.5);
    List<String> announced = texts(VECTORS.get("startup_ranges_example").get("expected_any_order"));
    List<String> sequence = texts(VECTORS.get("sync_sequence_example").get("expected_in_order"));
    assertEquals(announced, said.subList(7, 9));
    assertEquals(sequence, said.subList(9, said.size()));
  }

  // S-9.7.4.5 §6.3, §6.4: within 750 ms, and the next minute when it comes
  @Test
  void generatorAnswersAQueryAsPublished() {
    JsonNode example = VECTORS.get("sync_sequence_example");
    var generator = new Generating();
    generator.node.start(nowNs);
    generator.pass(1);
    said.clear();
    hear(generator, example.get("stimulus").asText());
    generator.pass(0.75);
    assertEquals(texts(example.get("expected_in_order")), said);
    said.clear();
    generator.pass(14);
    assertEquals(List.of(example.get("then_at_next_minute").asText()), said);
  }

  // S-9.7.4.5 §6.2: a single minute somebody waits for, told to the node
  @Test
  void minuteIdentifiedByAConsumerIsReported() {
    var generator = new Generating();
    generator.node.start(nowNs);
    generator.pass(20);
    hear(generator, ":X194C767EN010100000100080D;");
    said.clear();
    generator.pass(30);
    assertEquals(List.of(":X195B4458N010100000100080D;"), said);
  }

  // S-9.7.3.1 §6, S-9.7.4.5 §6.1: the question is announced before it is asked
  @Test
  void followerAnnouncesItsQuestionAndFollows() {
    var follower = new Following();
    follower.node.start(nowNs);
    follower.pass(0.5);
    assertEquals(
        List.of(
            ":X194A4458N010100000100FFFF;",
            ":X19547458N010100000100F000;",
            ":X195B4458N010100000100F000;"),
        said.subList(7, said.size()));
    for (JsonNode text : VECTORS.get("sync_sequence_example").get("expected_in_order")) {
      hear(follower, text.asText().replace("458N", "67EN"));
    }
    assertEquals(
        LocalDateTime.parse("1953-10-03T08:11"),
        follower.clock.now(nowNs + 15 * SECOND).orElseThrow().time());
    assertTrue(follower.clockDeadlineNs().isEmpty());
  }
}
