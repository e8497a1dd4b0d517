package tappet.bridge.pages;

import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.atomic.LongAdder;

/** Counts what the pages' server has refused. */
final class Refusals {

  /** Why something was refused. */
  enum Reason {
    MALFORMED,
    TOO_LARGE,
    FOREIGN_SITE,
    FOREIGN_HOST,
    NO_TOKEN,
    NOT_ALLOWED,
    WRONG_PIN,
    TOO_MANY_TRIES,
    NO_SUCH_PAGE,
    TOO_MANY_PAGES;

    String words() {
      return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }
  }

  private final Map<Reason, LongAdder> counts = new EnumMap<>(Reason.class);

  Refusals() {
    for (Reason reason : Reason.values()) {
      counts.put(reason, new LongAdder());
    }
  }

  void count(Reason reason) {
    counts.get(reason).increment();
  }

  /** All counts, by reason in words. */
  Map<String, Long> byReason() {
    Map<String, Long> all = new LinkedHashMap<>();
    counts.forEach((reason, count) -> all.put(reason.words(), count.sum()));
    return all;
  }

  long of(Reason reason) {
    return counts.get(reason).sum();
  }
}
