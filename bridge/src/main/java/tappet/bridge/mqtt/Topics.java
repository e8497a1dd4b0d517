package tappet.bridge.mqtt;

import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import tappet.bridge.view.Sight;
import tappet.bridge.view.SightJson;

/**
 * The topics under one prefix. Names of things are one level each: characters that mean something
 * in topics (MQTT 5.0 §4.7) are written as {@code %} and two hexadecimal digits.
 */
final class Topics {

  private static final String RESERVED = "/+#%";

  private final String prefix;

  Topics(String prefix) {
    this.prefix = prefix;
  }

  /** Whether the daemon is there: {@code online} or {@code offline}. */
  String presence() {
    return prefix + "/online";
  }

  /** Where sentences are heard. */
  String tell() {
    return prefix + "/tell";
  }

  /** Where the answer to a sentence is told. */
  String told(String id) {
    return prefix + "/told/" + id;
  }

  /** Everything that {@link #of} can name. */
  String everyThing() {
    return prefix + "/+/+";
  }

  /** What is seen, as JSON by topic. */
  Map<String, String> of(Sight sight) {
    Map<String, String> payloads = new LinkedHashMap<>();
    sight
        .kinds()
        .forEach(
            (kind, things) ->
                things.forEach(
                    (id, facts) ->
                        payloads.put(
                            prefix + '/' + kind + '/' + level(id), SightJson.facts(facts))));
    return payloads;
  }

  private static String level(String id) {
    StringBuilder level = new StringBuilder();
    id.codePoints().forEach(character -> append(character, level));
    return level.toString();
  }

  private static void append(int character, StringBuilder level) {
    if (RESERVED.indexOf(character) >= 0 || Character.isISOControl(character)) {
      for (byte one : Character.toString(character).getBytes(StandardCharsets.UTF_8)) {
        level.append("%%%02X".formatted(one));
      }
    } else {
      level.appendCodePoint(character);
    }
  }
}
