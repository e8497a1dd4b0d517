package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What is seen, as the messages that pages get. Any thread may ask. */
public final class SightJson {

  private SightJson() {}

  /** What is so of one thing, as an object. */
  public static String facts(Facts facts) {
    return JsonText.object(json -> writeFields(facts, json));
  }

  /** The whole of what is seen, as message {@code seq} of a run of the daemon. */
  public static String whole(String run, long seq, long atMs, Sight sight) {
    return JsonText.object(
        json -> {
          head(run, seq, atMs, json);
          json.writeObjectFieldStart("state");
          for (var kind : sight.kinds().entrySet()) {
            json.writeObjectFieldStart(kind.getKey());
            for (var thing : kind.getValue().entrySet()) {
              json.writeFieldName(thing.getKey());
              write(thing.getValue(), json);
            }
            json.writeEndObject();
          }
          json.writeEndObject();
        });
  }

  /** What has changed, with the news of that time. */
  public static String changes(
      String run,
      long seq,
      long atMs,
      Map<String, Map<String, Optional<Facts>>> changed,
      List<News> news) {
    return JsonText.object(
        json -> {
          head(run, seq, atMs, json);
          if (!changed.isEmpty()) {
            write(changed, json);
          }
          if (!news.isEmpty()) {
            json.writeArrayFieldStart("news");
            for (News one : news) {
              write(one, json);
            }
            json.writeEndArray();
          }
        });
  }

  /** Nothing has changed, and the daemon is still there. */
  public static String alive(String run, long seq, long atMs) {
    return JsonText.object(json -> head(run, seq, atMs, json));
  }

  private static void head(String run, long seq, long atMs, JsonGenerator json) throws IOException {
    json.writeStringField("run", run);
    json.writeNumberField("seq", seq);
    json.writeNumberField("at", atMs);
  }

  private static void write(Map<String, Map<String, Optional<Facts>>> changed, JsonGenerator json)
      throws IOException {
    json.writeObjectFieldStart("changed");
    for (var kind : changed.entrySet()) {
      json.writeObjectFieldStart(kind.getKey());
      for (var thing : kind.getValue().entrySet()) {
        json.writeFieldName(thing.getKey());
        if (thing.getValue().isPresent()) {
          write(thing.getValue().get(), json);
        } else {
          json.writeNull();
        }
      }
      json.writeEndObject();
    }
    json.writeEndObject();
  }

  static void write(News news, JsonGenerator json) throws IOException {
    json.writeStartObject();
    json.writeNumberField("at", news.atMs());
    json.writeStringField("text", news.text());
    json.writeEndObject();
  }

  private static void write(Facts facts, JsonGenerator json) throws IOException {
    json.writeStartObject();
    writeFields(facts, json);
    json.writeEndObject();
  }

  private static void writeFields(Facts facts, JsonGenerator json) throws IOException {
    for (var fact : facts.byWord().entrySet()) {
      json.writeFieldName(fact.getKey());
      write(fact.getValue(), json);
    }
  }

  private static void write(Object value, JsonGenerator json) throws IOException {
    if (value instanceof Boolean so) {
      json.writeBoolean(so);
    } else if (value instanceof Long number) {
      json.writeNumber(number);
    } else if (value instanceof Double number) {
      json.writeNumber(number);
    } else if (value instanceof List<?> texts) {
      json.writeStartArray();
      for (Object text : texts) {
        json.writeString((String) text);
      }
      json.writeEndArray();
    } else {
      json.writeString((String) value);
    }
  }
}
