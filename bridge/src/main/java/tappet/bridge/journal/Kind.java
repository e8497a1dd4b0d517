package tappet.bridge.journal;

import java.util.Arrays;

/** What a line of the journal is about. The numbers stand in files: they never change. */
enum Kind {
  STARTED(1, "started", Topic.DAEMON),
  ENDED(2, "ended", Topic.DAEMON),
  MISSING(3, "missing", Topic.DAEMON),
  OVERRUN(4, "overrun", Topic.DAEMON),
  REMARK(5, "remark", Topic.DAEMON),
  EXCHANGED(6, "exchanged", Topic.DAEMON),
  UP(10, "up", Topic.CONNECTIONS),
  DOWN(11, "down", Topic.CONNECTIONS),
  TOLD(20, "told", Topic.ORDERS),
  ANSWERED(21, "answered", Topic.ORDERS),
  WRITTEN(22, "written", Topic.ORDERS),
  KEPT(30, "kept", Topic.PROTECTIONS),
  NOT_KEPT(31, "not kept", Topic.PROTECTIONS),
  ASPECT(40, "aspect", Topic.ASPECTS),
  DARK(41, "dark", Topic.ASPECTS),
  SWITCH(50, "switch", Topic.SWITCHES),
  LOCK(51, "lock", Topic.SWITCHES),
  LAMP(60, "lamp", Topic.LINESIDE),
  CROSSING(61, "crossing", Topic.LINESIDE),
  OPENING(62, "opening", Topic.LINESIDE),
  CHANGE(70, "change", Topic.CHANGES),
  ALARM(80, "alarm", Topic.ALARMS),
  ALARM_GONE(81, "alarm gone", Topic.ALARMS),
  ALARM_SEEN(82, "alarm seen", Topic.ALARMS),
  HEARD(90, "heard", Topic.FRAMES),
  SENT(91, "sent", Topic.FRAMES);

  private final int number;
  private final String word;
  private final Topic topic;

  Kind(int number, String word, Topic topic) {
    this.number = number;
    this.word = word;
    this.topic = topic;
  }

  int number() {
    return number;
  }

  String word() {
    return word;
  }

  Topic topic() {
    return topic;
  }

  /** The kind of a number in a file. */
  static Kind of(int number) {
    return Arrays.stream(values())
        .filter(kind -> kind.number == number)
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("there is no kind " + number));
  }
}
