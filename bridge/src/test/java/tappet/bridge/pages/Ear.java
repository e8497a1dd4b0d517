package tappet.bridge.pages;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;

/** Listens to what changes, as a page does. */
public final class Ear implements AutoCloseable {

  private static final long PATIENCE_S = 60;
  private static final ObjectMapper JSON = new ObjectMapper();

  private final BlockingQueue<JsonNode> heard = new LinkedBlockingQueue<>();
  private final List<JsonNode> all = new ArrayList<>();
  private final WebSocket socket;

  private Ear(HttpClient client, String host, String query) {
    socket =
        client
            .newWebSocketBuilder()
            .buildAsync(URI.create("ws://" + host + "/api/live" + query), new Listener())
            .join();
  }

  public static Ear at(String host) {
    return at(HttpClient.newHttpClient(), host);
  }

  /** The same, beside other pages of one browser. */
  public static Ear at(HttpClient client, String host) {
    return new Ear(client, host, "");
  }

  /** Resumes after the last message that another has heard. */
  static Ear after(String host, String run, long seq) {
    return new Ear(HttpClient.newHttpClient(), host, "?run=" + run + "&after=" + seq);
  }

  private final class Listener implements WebSocket.Listener {
    private final StringBuilder part = new StringBuilder();

    @Override
    public CompletionStage<?> onText(WebSocket from, CharSequence text, boolean last) {
      part.append(text);
      if (last) {
        heard.add(read(part.toString()));
        part.setLength(0);
      }
      from.request(1);
      return null;
    }
  }

  private static JsonNode read(String text) {
    try {
      return JSON.readTree(text);
    } catch (IOException e) {
      throw new AssertionError(text, e);
    }
  }

  /** All that is seen, once it has been looked at. */
  public JsonNode state() {
    return until(message -> message.has("state")).path("state");
  }

  /** The next message. */
  public JsonNode next() {
    try {
      JsonNode message = heard.poll(PATIENCE_S, TimeUnit.SECONDS);
      if (message == null) {
        throw new AssertionError("nothing more was heard after " + all);
      }
      all.add(message);
      return message;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  /** Hears until a message is so. */
  JsonNode until(Predicate<JsonNode> isSo) {
    JsonNode message = next();
    while (!isSo.test(message)) {
      message = next();
    }
    return message;
  }

  /** Hears until a thing has a fact, in the whole state or in a change. */
  void untilFact(String kind, String id, String word, String value) {
    until(
        message ->
            message.path("state").path(kind).path(id).path(word).asText().equals(value)
                || message.path("changed").path(kind).path(id).path(word).asText().equals(value));
  }

  List<JsonNode> all() {
    return all;
  }

  @Override
  public void close() {
    socket.abort();
  }
}
