package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.LinkedHashMap;
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
    Map<What, Long> now = new LinkedHashMap<>();
    sight.of("train").forEach((train, facts) -> noteTrain(train, facts, atMs, now));
    sight.of("section").forEach((section, facts) -> noteSection(section, facts, atMs, now));
    sight.of("protection").forEach((words, facts) -> noteProtection(words, facts, atMs, now));
    layout
        .lineside()
        .districts()
        .forEach(
            (id, fed) -> noteOutage(sight, "district", id, "tripped", fed.sections(), atMs, now));
    layout
        .boards()
        .forEach(
            (id, board) -> noteOutage(sight, "board", id, "silent", board.sections(), atMs, now));
    Set<String> all = layout.sections().keySet();
    sight
        .of("connection")
        .keySet()
        .forEach(name -> noteOutage(sight, "connection", name, "down", all, atMs, now));
    for (Map.Entry<What, Long> before : open.entrySet()) {
      if (!now.containsKey(before.getKey())) {
        closed.addLast(new Entry(before.getKey(), before.getValue(), OptionalLong.of(atMs)));
      }
    }
    now.replaceAll((what, since) -> open.getOrDefault(what, since));
    open.clear();
    open.putAll(now);
    forget(atMs);
  }

  private static void noteTrain(String train, Facts facts, long atMs, Map<What, Long> now) {
    for (Object section : (List<?>) facts.byWord().getOrDefault("on", List.of())) {
      now.put(new What(Kind.TRAIN, train, List.of((String) section)), atMs);
    }
  }

  private static void noteSection(String section, Facts facts, long atMs, Map<What, Long> now) {
    if ("occupied".equals(facts.byWord().get("is"))) {
      now.put(new What(Kind.OCCUPIED, section, List.of(section)), atMs);
    }
  }

  private static void noteProtection(String words, Facts facts, long atMs, Map<What, Long> now) {
    List<String> on =
        ((List<?>) facts.byWord().getOrDefault("on", List.of()))
            .stream().map(String.class::cast).toList();
    now.put(new What(Kind.PROTECTION, words, on), atMs);
  }

  private static void noteOutage(
      Sight sight,
      String kind,
      String id,
      String when,
      Collection<String> sections,
      long atMs,
      Map<What, Long> now) {
    Facts facts = sight.of(kind).getOrDefault(id, Facts.none());
    if (when.equals(facts.byWord().get("is"))) {
      now.put(new What(Kind.OUTAGE, kind + " " + id, List.copyOf(sections)), atMs);
    }
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
