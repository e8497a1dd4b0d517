package tappet.bridge.rehearsal;

/** What of a railroad's rules a scenario can try. */
enum Tried {
  LINED("routes lined"),
  PROCEEDED("routes whose signal has shown a proceed aspect"),
  RUN("routes with a train in their last section"),
  REFUSED("routes refused"),
  CANCELLED("routes cancelled"),
  TRAFFIC("lines with their traffic set each way"),
  ASPECT("aspects shown"),
  LAID("switches brought to lie each way"),
  HELD("switches refused to be thrown"),
  RELEASED("electric locks released"),
  LOCKED("electric locks refused to be released"),
  UNLOCKED("openings unlocked"),
  CLOSED("openings refused to be unlocked"),
  FLAGGED("rows of flags with the section flagged"),
  WARNED("grade crossings warning"),
  LIT("indicators lit"),
  PRESSED("buttons with a request pressed"),
  NEEDED("needs of the owner not fulfilled"),
  PROTECTION("protections given, refused and ended"),
  HAPPENED("things that can befall a railroad");

  private final String words;

  Tried(String words) {
    this.words = words;
  }

  /** What it is, for people, in the plural. */
  String words() {
    return words;
  }
}
