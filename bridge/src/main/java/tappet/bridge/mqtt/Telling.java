package tappet.bridge.mqtt;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A sentence that has come by MQTT.
 *
 * @param id the sender's name for it, by which it is answered and known again
 * @param atMs when it was said, in milliseconds since 1970
 */
record Telling(String id, String sentence, long atMs) {

  /** Longer than any sentence. */
  static final int LENGTH_MAX = 4_096;

  private static final JsonFactory JSON = new JsonFactory();
  private static final Pattern ID = Pattern.compile("[A-Za-z0-9_-]{1,64}");

  /** Reads the object {@code {"say": …, "id": …, "at": …}}; empty where it is no such. */
  static Optional<Telling> read(byte[] payload) {
    if (payload.length > LENGTH_MAX) {
      return Optional.empty();
    }
    try (JsonParser json = JSON.createParser(payload)) {
      return json.nextToken() == JsonToken.START_OBJECT ? read(json) : Optional.empty();
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  private static Optional<Telling> read(JsonParser json) throws IOException {
    String id = "";
    String sentence = "";
    long atMs = 0;
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String field = json.currentName();
      JsonToken value = json.nextToken();
      if (field.equals("id") && value == JsonToken.VALUE_STRING) {
        id = json.getText();
      } else if (field.equals("say") && value == JsonToken.VALUE_STRING) {
        sentence = json.getText();
      } else if (field.equals("at") && value == JsonToken.VALUE_NUMBER_INT) {
        atMs = json.getLongValue();
      } else {
        return Optional.empty();
      }
    }
    boolean whole = ID.matcher(id).matches() && !sentence.isBlank() && json.nextToken() == null;
    return whole ? Optional.of(new Telling(id, sentence, atMs)) : Optional.empty();
  }
}
