package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.LongSupplier;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.SignalBox;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;

/** Who speaks on the bus, and the last events that were reported. On the box's thread. */
public final class BusLog implements BoxListener {

  private static final int EVENTS_KEPT = 500;
  private static final int NODES_MAX = 1_000;
  private static final int NODE_ID_BYTES = 6;
  private static final int EVENT_ID_BYTES = 8;
  private static final String OURS = "the daemon";

  private static final class Heard {
    private Optional<NodeId> node = Optional.empty();
    private long atMs;
    private long frames;
    private long events;
  }

  private record Reported(long number, long atMs, String from, EventId event) {}

  private Layout layout;
  private Function<EventId, Optional<String>> words;
  private final LongSupplier wallClockMs;
  private final Map<Integer, Heard> byAlias = new LinkedHashMap<>();
  private final Deque<Reported> events = new ArrayDeque<>();
  private long number;

  /**
   * @param words what an event means, where that is known
   */
  public BusLog(
      Layout layout, Function<EventId, Optional<String>> words, LongSupplier wallClockMs) {
    this.layout = layout;
    this.words = words;
    this.wallClockMs = wallClockMs;
  }

  /** The layout is another one. */
  public void goOn(Layout next, Function<EventId, Optional<String>> nextWords) {
    layout = next;
    words = nextWords;
  }

  @Override
  public void frameHeard(String origin, CanFrame frame, long nowNs) {
    Heard heard = heard(frame.sourceAlias());
    heard.frames++;
    heard.atMs = wallClockMs.getAsLong();
    report(frame)
        .ifPresent(
            report -> {
              heard.events++;
              note(report.event(), heard.node.map(NodeId::toString).orElse("an unknown node"));
            });
    if (frame.length() == NODE_ID_BYTES) {
      learn(heard, Messages.decode(frame));
    }
  }

  /** Most frames of a busy bus are of another length, and cost nothing here. */
  private static Optional<Message.EventReport> report(CanFrame frame) {
    return frame.length() == EVENT_ID_BYTES
            && Messages.decode(frame) instanceof Message.EventReport report
        ? Optional.of(report)
        : Optional.empty();
  }

  @Override
  public void frameSent(CanFrame frame, long nowNs) {
    report(frame).ifPresent(report -> note(report.event(), OURS));
  }

  private Heard heard(int alias) {
    if (byAlias.size() >= NODES_MAX && !byAlias.containsKey(alias)) {
      byAlias.remove(byAlias.keySet().iterator().next());
    }
    return byAlias.computeIfAbsent(alias, unknown -> new Heard());
  }

  private static void learn(Heard heard, Message message) {
    if (message instanceof Message.AliasMapDefinition definition) {
      heard.node = Optional.of(definition.node());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      heard.node = Optional.of(verified.node());
    } else if (message instanceof Message.InitializationComplete complete) {
      heard.node = Optional.of(complete.node());
    }
  }

  private void note(EventId event, String from) {
    number++;
    events.addLast(new Reported(number, wallClockMs.getAsLong(), from, event));
    if (events.size() > EVENTS_KEPT) {
      events.removeFirst();
    }
  }

  /** The events after one of a number, as a JSON object. */
  public String events(long after, long atMs) {
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          json.writeNumberField("last", number);
          json.writeArrayFieldStart("events");
          for (Reported reported : events) {
            if (reported.number() > after) {
              write(reported, json);
            }
          }
          json.writeEndArray();
        });
  }

  private void write(Reported reported, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeNumberField("n", reported.number());
    json.writeNumberField("at", reported.atMs());
    json.writeStringField("from", reported.from());
    json.writeStringField("event", reported.event().toString());
    Optional<String> meant = words.apply(reported.event());
    if (meant.isPresent()) {
      json.writeStringField("words", meant.get());
    }
    json.writeEndObject();
  }

  /** Who has spoken, and how the connections are, as a JSON object. */
  public String nodes(SignalBox box, long atMs) {
    Set<String> lost = box.lostBoards();
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          json.writeArrayFieldStart("nodes");
          for (var heard : byAlias.entrySet()) {
            write(heard.getKey(), heard.getValue(), lost, json);
          }
          json.writeEndArray();
          json.writeArrayFieldStart("connections");
          for (var connection : box.connections().entrySet()) {
            json.writeStartObject();
            json.writeStringField("name", connection.getKey());
            json.writeBooleanField("up", connection.getValue());
            json.writeEndObject();
          }
          json.writeEndArray();
        });
  }

  private void write(int alias, Heard heard, Set<String> lost, JsonGenerator json)
      throws IOException {
    Optional<Board> board = heard.node.flatMap(this::board);
    json.writeStartObject();
    json.writeStringField("alias", "%03X".formatted(alias));
    if (heard.node.isPresent()) {
      json.writeStringField("node", heard.node.get().toString());
    }
    if (board.isPresent()) {
      json.writeStringField("name", board.get().name());
      json.writeBooleanField("silent", lost.contains(board.get().id()));
    }
    json.writeNumberField("heard", heard.atMs);
    json.writeNumberField("frames", heard.frames);
    json.writeNumberField("events", heard.events);
    json.writeEndObject();
  }

  private Optional<Board> board(NodeId node) {
    return layout.boards().values().stream().filter(it -> it.node().equals(node)).findFirst();
  }
}
