package tappet.bridge.mqtt;

import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What the broker is still to be told. It holds each topic once, with what is so now: however long
 * the broker is away, it never holds more than there are things.
 */
final class Outbox {

  /** What takes a retained message away (MQTT 5.0 §3.3.1.3). */
  private static final String NOTHING = "";

  private Map<String, String> state = Map.of();
  private final Set<String> waiting = new LinkedHashSet<>();
  private final Set<String> refused = new LinkedHashSet<>();

  /** A retained message that is to go out. */
  record Letter(String topic, String payload) {}

  /** This is so now; what is left out is no more. */
  void show(Map<String, String> now) {
    state.keySet().stream().filter(topic -> !now.containsKey(topic)).forEach(waiting::add);
    now.forEach(
        (topic, payload) -> {
          if (!payload.equals(state.get(topic))) {
            waiting.add(topic);
          }
        });
    state = new LinkedHashMap<>(now);
  }

  /** The broker may know nothing, or what was so before; it is told in the order given. */
  void tellAll() {
    tellRefused();
    refused.clear();
    waiting.removeAll(state.keySet());
    waiting.addAll(state.keySet());
  }

  /** The broker has kept something from an earlier time: what is no more is taken away. */
  void found(String topic) {
    if (!state.containsKey(topic)) {
      waiting.add(topic);
    }
  }

  /** The broker has taken what it was told of this. */
  void taken(String topic) {
    refused.remove(topic);
  }

  /** The broker has not, and keeps what was so before; it is told again when that is asked for. */
  void refused(String topic) {
    refused.add(topic);
  }

  /** Whether the broker keeps anything that is known to be old. */
  boolean hasRefused() {
    return !refused.isEmpty();
  }

  /** What the broker has not taken goes out once more. */
  void tellRefused() {
    waiting.addAll(refused);
  }

  Optional<Letter> next() {
    Iterator<String> first = waiting.iterator();
    if (!first.hasNext()) {
      return Optional.empty();
    }
    String topic = first.next();
    first.remove();
    return Optional.of(new Letter(topic, state.getOrDefault(topic, NOTHING)));
  }

  boolean isEmpty() {
    return waiting.isEmpty();
  }
}
