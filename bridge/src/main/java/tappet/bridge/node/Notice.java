package tappet.bridge.node;

import tappet.lcc.EventId;

/**
 * What any node may tell by an event that means the same everywhere: on all buses (S-9.7.0.4 §5.2),
 * and for {@link #DUPLICATE_ID} where somebody listens (§5.3).
 */
enum Notice {
  LOG_ENTRY("01.00.00.00.00.00.FF.F8", Weight.NEWS, "has recorded a log entry"),
  BROWN_OUT_OF_NODE(
      "01.00.00.00.00.00.FF.F1",
      Weight.PASSING_ALARM,
      "has a brown-out: its supply is below what it needs"),
  BROWN_OUT_OF_STANDARD(
      "01.00.00.00.00.00.FF.F0",
      Weight.PASSING_ALARM,
      "has a brown-out: its supply is below what a standard requires"),
  IDENT_BUTTON(
      "01.00.00.00.00.00.FE.00", Weight.NEWS, "is here: its ident buttons have been pressed"),
  LINK_ERROR_1("01.00.00.00.00.00.FD.01", Weight.NEWS, "reports link error 1"),
  LINK_ERROR_2("01.00.00.00.00.00.FD.02", Weight.NEWS, "reports link error 2"),
  LINK_ERROR_3("01.00.00.00.00.00.FD.03", Weight.NEWS, "reports link error 3"),
  LINK_ERROR_4("01.00.00.00.00.00.FD.04", Weight.NEWS, "reports link error 4"),
  DUPLICATE_ID(
      "01.01.00.00.00.00.02.01",
      Weight.ALARM_UNTIL_RESTART,
      "has met another node with its id: give each its own, and restart them");

  /** What becomes of it. */
  enum Weight {
    NEWS,
    PASSING_ALARM,
    ALARM_UNTIL_RESTART
  }

  private final String event;
  private final Weight weight;
  private final String words;

  Notice(String event, Weight weight, String words) {
    this.event = event;
    this.weight = weight;
    this.words = words;
  }

  EventId event() {
    return EventId.of(event);
  }

  Weight weight() {
    return weight;
  }

  /** What a node tells by it. */
  String toldBy(String node) {
    return node + " " + words;
  }
}
