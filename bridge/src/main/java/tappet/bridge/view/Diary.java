package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import tappet.layout.Layout;

/**
 * What was where and when, as far as a day back: occupied sections, trains by name, protections,
 * and what was not there: power, boards, connections. Made of what is seen, so what comes and goes
 * between two looks is not in it. One thread at a time.
 */
public final class Diary {

  static final long KEPT_MS = TimeUnit.HOURS.toMillis(24);

  /** A busy day of a large club has less; older ones go first. */
  private static final int KEPT_MAX = 50_000;

  /** What an entry is about. */
  enum Kind {
    TRAIN("trains"),
    OCCUPIED("occupied"),
    PROTECTION("protections"),
    OUTAGE("outages");

    private final String word;

    Kind(String word) {
      this.word = word;
    }
  }

  /** What lasts: a train on a section, an occupied section, a protection, an outage. */
  private record What(Kind kind, String name, List<String> on) {}

  private record Entry(What what, long fromMs, OptionalLong toMs) {}

  private Layout layout;
  private final Map<What, Long> open = new LinkedHashMap<>();
  private final Deque<Entry> closed = new ArrayDeque<>();

  public Diary(Layout layout) {
    this.layout = layout;
  }

  /** Another layout has taken over. */
  public void goOn(Layout next) {
    layout = next;
  }

  /** Takes down what is seen at a moment. */
  public void follow(Sight sight, long atMs) {
    Map<What, Long> before = new LinkedHashMap<>(open);
    open.clear();
    seen(sight).forEach(what -> open.put(what, before.getOrDefault(what, atMs)));
    before.forEach(
        (what, fromMs) -> {
          if (!open.containsKey(what)) {
            closed.addLast(new Entry(what, fromMs, OptionalLong.of(atMs)));
          }
        });
    forget(atMs);
  }

  private Set<What> seen(Sight sight) {
    Set<What> seen = new LinkedHashSet<>();
    sight
        .of("train")
        .forEach(
            (train, facts) ->
                facts
                    .texts("on")
                    .forEach(id -> seen.add(new What(Kind.TRAIN, train, List.of(id)))));
    sight.of("section").keySet().stream()
        .filter(id -> is(sight, "section", id, "occupied"))
        .forEach(id -> seen.add(new What(Kind.OCCUPIED, id, List.of(id))));
    sight
        .of("protection")
        .forEach((words, facts) -> seen.add(new What(Kind.PROTECTION, words, facts.texts("on"))));
    addOutages(sight, seen);
    return seen;
  }

  private void addOutages(Sight sight, Set<What> seen) {
    layout.lineside().districts().values().stream()
        .filter(fed -> is(sight, "district", fed.id(), "tripped"))
        .forEach(fed -> seen.add(outage("district", fed.id(), fed.sections())));
    layout.boards().values().stream()
        .filter(board -> is(sight, "board", board.id(), "silent"))
        .forEach(board -> seen.add(outage("board", board.id(), board.sections())));
    sight.of("connection").keySet().stream()
        .filter(name -> is(sight, "connection", name, "down"))
        .forEach(name -> seen.add(outage("connection", name, layout.sections().keySet())));
  }

  private static What outage(String kind, String id, Collection<String> sections) {
    return new What(Kind.OUTAGE, kind + " " + id, List.copyOf(sections));
  }

  private static boolean is(Sight sight, String kind, String id, String word) {
    return sight.of(kind).getOrDefault(id, Facts.none()).says("is", word);
  }

  private void forget(long atMs) {
    while (!closed.isEmpty()
        && (closed.size() > KEPT_MAX || closed.peekFirst().toMs().getAsLong() < atMs - KEPT_MS)) {
      closed.removeFirst();
    }
  }

  /** All that has lasted until after {@code sinceMs}, as a JSON object. */
  public String json(long sinceMs, long atMs) {
    List<Entry> entries = new ArrayList<>();
    closed.stream().filter(entry -> entry.toMs().getAsLong() >= sinceMs).forEach(entries::add);
    open.forEach((what, fromMs) -> entries.add(new Entry(what, fromMs, OptionalLong.empty())));
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          for (Kind kind : Kind.values()) {
            json.writeArrayFieldStart(kind.word);
            for (Entry entry : entries) {
              if (entry.what().kind() == kind) {
                write(entry, json);
              }
            }
            json.writeEndArray();
          }
        });
  }

  private static void write(Entry entry, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("what", entry.what().name());
    JsonText.texts("on", entry.what().on(), json);
    json.writeNumberField("from", entry.fromMs());
    if (entry.toMs().isPresent()) {
      json.writeNumberField("to", entry.toMs().getAsLong());
    }
    json.writeEndObject();
  }
}
