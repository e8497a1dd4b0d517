package tappet.bridge.pages;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.view.JsonText;
import tappet.bridge.view.Mentions;
import tappet.bridge.web.Reply;
import tappet.interlocking.Candidate;
import tappet.layout.Position;
import tappet.network.Explanation;

/** The answers of the interface, as JSON objects. */
final class ApiJson {

  private final Mentions mentions;

  ApiJson(Mentions mentions) {
    this.mentions = mentions;
  }

  private static String object(long atMs, JsonText.Body body) {
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          body.write(json);
        });
  }

  /** An answer of one text. */
  static String text(long atMs, String text) {
    return object(atMs, json -> json.writeStringField("text", text));
  }

  static String html(long atMs, String html) {
    return object(atMs, json -> json.writeStringField("html", html));
  }

  /** What became of a sentence. */
  String answer(long atMs, Reply reply) {
    return answer(atMs, reply.kind().word(), reply.text());
  }

  String answer(long atMs, String answer, String text) {
    return object(
        atMs,
        json -> {
          json.writeStringField("answer", answer);
          json.writeStringField("text", text);
          writeMarks(text, json);
        });
  }

  String why(long atMs, Explanation why) {
    return object(
        atMs,
        json -> {
          json.writeStringField("text", why.text());
          json.writeFieldName("tree");
          write(why, json);
          writeMarks(why.text(), json);
        });
  }

  String way(long atMs, Optional<Candidate> found) {
    return object(
        atMs,
        json -> {
          if (found.isPresent()) {
            write(found.get(), json);
          } else {
            json.writeNullField("route");
            json.writeBooleanField("can", false);
            json.writeStringField("text", "no route that is lined leads there");
          }
        });
  }

  private void write(Candidate candidate, JsonGenerator json) throws IOException {
    json.writeStringField("route", candidate.row().id());
    json.writeBooleanField("can", candidate.free());
    json.writeStringField("text", candidate.words().text());
    JsonText.texts("path", candidate.row().path(), json);
    json.writeObjectFieldStart("switches");
    for (Map.Entry<String, Position> toe : candidate.row().switches().entrySet()) {
      json.writeStringField(toe.getKey(), toe.getValue().word());
    }
    json.writeEndObject();
    writeMarks(candidate.words().text(), json);
  }

  private void write(Explanation why, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeStringField("clause", why.clause());
    json.writeArrayFieldStart("because");
    for (Explanation reason : why.because()) {
      write(reason, json);
    }
    json.writeEndArray();
    writeMarks(why.clause(), json);
    json.writeEndObject();
  }

  private void writeMarks(String text, JsonGenerator json) throws IOException {
    List<Mentions.Mention> found = mentions.in(text);
    json.writeArrayFieldStart("marks");
    for (Mentions.Mention mention : found) {
      json.writeStartObject();
      json.writeStringField("kind", mention.kind());
      json.writeStringField("id", mention.id());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  /** Who somebody is. */
  static String me(long atMs, Session session) {
    return object(
        atMs,
        json -> {
          json.writeStringField("role", session.role().word());
          if (!session.isNobody()) {
            json.writeStringField("name", session.name());
            json.writeStringField("token", session.token());
          }
          if (session.territory().isPresent()) {
            json.writeStringField("territory", session.territory().get());
          }
        });
  }

  /** How the server itself fares. */
  static String health(long atMs, int pages, long cutOff, Refusals refusals) {
    return object(
        atMs,
        json -> {
          json.writeNumberField("pages", pages);
          json.writeNumberField("cutOff", cutOff);
          json.writeObjectFieldStart("refused");
          for (Refusals.Reason reason : Refusals.Reason.values()) {
            json.writeNumberField(reason.words(), refusals.of(reason));
          }
          json.writeEndObject();
        });
  }
}
