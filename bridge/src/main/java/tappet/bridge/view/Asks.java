package tappet.bridge.view;

import java.util.LinkedHashMap;
import java.util.Map;

/** What crews ask of the dispatcher, by number in the order in which they asked. */
final class Asks {

  /** So many may wait for an answer; a page that asks without end is told to wait. */
  static final int MAX = 40;

  /**
   * A crew asks the dispatcher to say a sentence.
   *
   * @param atMs when, in milliseconds since 1970
   */
  record Ask(String holder, String sentence, long atMs) {}

  private final Map<String, Ask> open = new LinkedHashMap<>();
  private long lastNumber;

  boolean full() {
    return open.size() >= MAX;
  }

  /** Takes a new one, unless it waits already. */
  void add(Ask ask) {
    if (open.values().stream().noneMatch(other -> isSame(other, ask))) {
      lastNumber++;
      open.put(String.valueOf(lastNumber), ask);
    }
  }

  private static boolean isSame(Ask one, Ask other) {
    return one.holder().equals(other.holder()) && one.sentence().equals(other.sentence());
  }

  /** Somebody asked before the start. */
  void restore(long number, Ask ask) {
    lastNumber = Math.max(lastNumber, number);
    open.put(String.valueOf(number), ask);
  }

  /** False if there is none of that number. */
  boolean withdraw(String number) {
    return open.remove(number) != null;
  }

  /** Somebody has said the sentence, and it was done. */
  void done(String sentence) {
    open.values().removeIf(ask -> ask.sentence().equals(sentence));
  }

  Map<String, Ask> all() {
    return open;
  }
}
