package tappet.bridge.journal;

import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** What people ask the journal for. */
public enum Topic {
  ORDERS,
  ALARMS,
  ASPECTS,
  SWITCHES,
  LINESIDE,
  CHANGES,
  PROTECTIONS,
  CONNECTIONS,
  DAEMON,
  FRAMES;

  /** The owner's word. */
  String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  static List<String> words() {
    return Stream.of(values()).map(Topic::word).toList();
  }
}
