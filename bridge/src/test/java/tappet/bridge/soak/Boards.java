package tappet.bridge.soak;

import static tappet.bridge.conformance.BirchHollow.APPROACH_CLEAR;
import static tappet.bridge.conformance.BirchHollow.APPROACH_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.MAIN_CLEAR;
import static tappet.bridge.conformance.BirchHollow.MAIN_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.SIDING_CLEAR;
import static tappet.bridge.conformance.BirchHollow.SIDING_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.SWITCH_CLEAR;
import static tappet.bridge.conformance.BirchHollow.SWITCH_OCCUPIED;
import static tappet.bridge.conformance.BirchHollow.W1_IS_NORMAL;
import static tappet.bridge.conformance.BirchHollow.W1_IS_REVERSE;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The boards of Birch Hollow: they speak at random, and keep book of what whoever listens must
 * believe of each device. That a board has started anew makes unknown what it carries, the siding.
 */
final class Boards {

  /** The node id of the one board that the layout watches. */
  static final String NODE = "0A5700000F01";

  /** Where the boards are on the bus. */
  static final String ALIAS = "E00";

  /** What identified messages call it (S-9.7.3.1 §4.3): the last digit of their MTI. */
  private static final char VALID = '4';

  private static final char INVALID = '5';
  private static final char UNKNOWN = '7';

  private static final String NOTHING = "";

  /** The two events of each device. */
  private static final List<List<String>> DEVICES =
      List.of(
          List.of(APPROACH_CLEAR, APPROACH_OCCUPIED),
          List.of(SWITCH_CLEAR, SWITCH_OCCUPIED),
          List.of(MAIN_CLEAR, MAIN_OCCUPIED),
          List.of(SIDING_CLEAR, SIDING_OCCUPIED),
          List.of(W1_IS_NORMAL, W1_IS_REVERSE));

  private static final List<String> SIDING = DEVICES.get(3);

  /** Headers by which an event is the last word of its device; bit 28 does not count (§3.1). */
  private static final List<String> SAYING_SO = List.of("195B4", "095B4", "19F16", "19544");

  /** Headers by which an event stops being true, if it was. */
  private static final List<String> TAKING_BACK = List.of("19545", "19547");

  private final Random chance;
  private final Map<List<String>, String> lastWords = new LinkedHashMap<>();

  Boards(Random chance) {
    this.chance = chance;
    DEVICES.forEach(device -> lastWords.put(device, NOTHING));
  }

  /** Everything is clear, and the switch lies normal. */
  String allClear() {
    return DEVICES.stream()
        .map(device -> says(device, device.get(0)))
        .collect(Collectors.joining());
  }

  private String says(List<String> device, String event) {
    lastWords.put(device, event);
    return frame("195B4", event);
  }

  /** One of the words after which a route over the switch into the main track proves no more. */
  String breakTheRoute() {
    List<String> device =
        List.of(DEVICES.get(1), DEVICES.get(2), DEVICES.get(4)).get(chance.nextInt(3));
    if (chance.nextBoolean()) {
      return says(device, device.get(1));
    }
    lastWords.put(device, NOTHING);
    return frame(any(TAKING_BACK), device.get(0));
  }

  /** Some board says something of some device. */
  String speak() {
    if (chance.nextInt(50) == 0) {
      lastWords.put(SIDING, NOTHING);
      return frame("19100", NODE);
    }
    List<String> device = any(DEVICES);
    String event = any(device);
    if (chance.nextInt(4) > 0) {
      lastWords.put(device, event);
      return frame(any(SAYING_SO), event);
    }
    lastWords.replace(device, event, NOTHING);
    return frame(any(TAKING_BACK), event);
  }

  private <T> T any(List<T> choice) {
    return choice.get(chance.nextInt(choice.size()));
  }

  static String frame(String header, String data) {
    return ":X" + header + ALIAS + "N" + data + ";";
  }

  /** What a listener must say of each event as its consumer. */
  Map<String, Character> expected() {
    Map<String, Character> expected = new LinkedHashMap<>();
    lastWords.forEach(
        (device, word) ->
            device.forEach(
                event -> expected.put(event, word.isEmpty() ? UNKNOWN : valid(word, event))));
    return expected;
  }

  private static char valid(String word, String event) {
    return word.equals(event) ? VALID : INVALID;
  }

  /** All events that the boards send. */
  static List<String> events() {
    return DEVICES.stream().flatMap(List::stream).toList();
  }

  /** What is to be said of signals, by the event of each that is shown. */
  static Map<String, Character> showing(List<String> all, Stream<String> shown) {
    List<String> valid = shown.toList();
    return all.stream()
        .collect(
            Collectors.toMap(event -> event, event -> valid.contains(event) ? VALID : INVALID));
  }
}
