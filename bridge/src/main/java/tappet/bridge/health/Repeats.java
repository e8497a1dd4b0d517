package tappet.bridge.health;

import ch.qos.logback.classic.spi.ILoggingEvent;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Decides which of many log lines are told, minute by minute, and counts the others. */
final class Repeats {

  /** So many equal lines a minute show that it goes on; more show nothing new. */
  static final int EQUAL_MAX = 3;

  /** So many that differ only in what they are about. */
  static final int ALIKE_MAX = 30;

  /** Of more forms or texts a minute than this, the rest count as one. */
  private static final int KEPT_MAX = 256;

  private static final String OTHERS = "";

  private final Map<String, Form> forms = new LinkedHashMap<>();
  private final Map<String, Integer> texts = new LinkedHashMap<>();

  /** What is known of the lines of one form in this minute. */
  private static final class Form {
    private int told;
    private long untold;
    private ILoggingEvent last;
  }

  /**
   * Lines of one form that were not told.
   *
   * @param last the last of them
   * @param times how many there were, that one among them
   */
  record Untold(ILoggingEvent last, long times) {}

  /** Whether a line is to be told; one that is not is counted. */
  boolean tells(ILoggingEvent line) {
    String form = line.getLoggerName() + ' ' + line.getLevel() + ' ' + line.getMessage();
    Form known = forms.computeIfAbsent(key(form, forms), any -> new Form());
    int equal = texts.merge(key(form + line.getFormattedMessage(), texts), 1, Integer::sum);
    boolean tells = equal <= EQUAL_MAX && known.told < ALIKE_MAX;
    if (tells) {
      known.told++;
    } else {
      known.untold++;
      known.last = line;
    }
    return tells;
  }

  private static String key(String wanted, Map<String, ?> kept) {
    return kept.size() < KEPT_MAX || kept.containsKey(wanted) ? wanted : OTHERS;
  }

  /** Begins a new minute, and answers what was not told in the last one. */
  List<Untold> nextMinute() {
    List<Untold> untold =
        forms.values().stream()
            .filter(form -> form.untold > 0)
            .map(form -> new Untold(form.last, form.untold))
            .toList();
    forms.clear();
    texts.clear();
    return untold;
  }
}
