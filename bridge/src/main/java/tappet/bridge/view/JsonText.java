package tappet.bridge.view;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/** JSON as text (RFC 8259). Any thread may ask. */
public final class JsonText {

  private static final JsonFactory JSON = new JsonFactory();

  private JsonText() {}

  /** Writes one object's fields. */
  @FunctionalInterface
  public interface Body {
    void write(JsonGenerator json) throws IOException;
  }

  /** An object. */
  public static String object(Body body) {
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      body.write(json);
      json.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException("a text in memory cannot fail", e);
    }
    return text.toString();
  }

  /** A field that holds a list of texts. */
  public static void texts(String word, Iterable<String> texts, JsonGenerator json)
      throws IOException {
    json.writeArrayFieldStart(word);
    for (String text : texts) {
      json.writeString(text);
    }
    json.writeEndArray();
  }
}
