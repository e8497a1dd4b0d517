package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import tappet.bridge.view.JsonText;

/** Looks things up for the pages, one after the other, on a thread that nobody waits for. */
public final class JournalSearch implements Closeable {

  /** So many lines are shown at once. */
  static final int SHOWN_MAX = 200;

  /** So many lines are taken away at once. */
  static final int TAKEN_MAX = 5_000;

  private static final int WAITING_MAX = 8;
  private static final long IDLE_S = 10;
  private static final String JSON = "application/json; charset=utf-8";

  private final Path path;
  private final Telling telling = new Telling(ZoneId.systemDefault());
  private final ThreadPoolExecutor reader;

  /** Nothing is opened until somebody asks. */
  public JournalSearch(Path path) {
    this.path = path;
    this.reader =
        new ThreadPoolExecutor(
            1,
            1,
            IDLE_S,
            TimeUnit.SECONDS,
            new ArrayBlockingQueue<>(WAITING_MAX),
            work -> {
              Thread thread = new Thread(work, "read journal");
              thread.setDaemon(true);
              return thread;
            });
    reader.allowCoreThreadTimeOut(true);
  }

  /**
   * What is answered.
   *
   * @param status of HTTP (RFC 9110 §15): 200, 400 for a question without meaning, or 503 where
   *     nothing can be read now
   * @param type the media type of the text
   * @param file what to call it where it is taken away; empty where it is shown
   */
  public record Sheet(int status, String type, String file, String text) {}

  /**
   * Answers a question of a page.
   *
   * @param asked its parameters; {@code as} is {@code csv} or {@code json-lines} where the lines
   *     are to be taken away
   * @param atMs the time of day
   */
  public CompletableFuture<Sheet> ask(Map<String, String> asked, long atMs) {
    try {
      return CompletableFuture.supplyAsync(() -> answer(asked, atMs), reader);
    } catch (RejectedExecutionException e) {
      return CompletableFuture.completedFuture(
          wrong(503, "too many search the journal at once; try again", atMs));
    }
  }

  private Sheet answer(Map<String, String> asked, long atMs) {
    try {
      return switch (asked.getOrDefault("as", "")) {
        case "" -> shown(find(Query.ofPage(asked, SHOWN_MAX + 1)), atMs);
        case "csv" -> csv(find(Query.ofPage(asked, TAKEN_MAX)));
        case "json-lines" -> jsonLines(find(Query.ofPage(asked, TAKEN_MAX)));
        default -> wrong(400, "take it away as csv or json-lines", atMs);
      };
    } catch (IllegalArgumentException | ArithmeticException e) {
      return wrong(400, e.getMessage(), atMs);
    } catch (IOException e) {
      return wrong(503, "the journal cannot be read now: " + e.getMessage(), atMs);
    }
  }

  private List<Found> find(Query query) throws IOException {
    List<Found> found = new ArrayList<>();
    try (JournalReader journal = JournalReader.open(path)) {
      journal.find(query, found::add);
    }
    return found;
  }

  /** One more than is shown has been asked for: then there are more. */
  private static Sheet shown(List<Found> found, long atMs) {
    List<Found> lines = found.subList(0, Math.min(found.size(), SHOWN_MAX));
    String text =
        JsonText.object(
            json -> {
              json.writeNumberField("at", atMs);
              json.writeBooleanField("more", found.size() > SHOWN_MAX);
              json.writeArrayFieldStart("lines");
              for (Found line : lines) {
                json.writeStartObject();
                Telling.fields(line, json);
                json.writeEndObject();
              }
              json.writeEndArray();
            });
    return new Sheet(200, JSON, "", text);
  }

  private Sheet csv(List<Found> found) {
    String lines =
        found.stream().map(line -> telling.csv(line) + "\r\n").collect(Collectors.joining());
    return new Sheet(
        200, "text/csv; charset=utf-8", "journal.csv", Telling.CSV_HEAD + "\r\n" + lines);
  }

  private static Sheet jsonLines(List<Found> found) {
    String lines =
        found.stream().map(line -> Telling.json(line) + "\n").collect(Collectors.joining());
    return new Sheet(200, "application/jsonl; charset=utf-8", "journal.jsonl", lines);
  }

  private static Sheet wrong(int status, String words, long atMs) {
    String text =
        JsonText.object(
            json -> {
              json.writeNumberField("at", atMs);
              json.writeStringField("text", words);
            });
    return new Sheet(status, JSON, "", text);
  }

  @Override
  public void close() {
    reader.shutdown();
  }
}
