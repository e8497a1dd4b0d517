package tappet.bridge.soak;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.stream.Stream;
import tappet.bridge.conformance.BirchHollow;
import tappet.bridge.conformance.Dut;

/**
 * Everything that may come over a bus and must change nothing: frames of many nodes that are right,
 * wrong, out of order, cut off, or none at all. Nothing here says what a board says of its devices,
 * nor an emergency, nor that somebody has the daemon's node id, for all of these must have a
 * consequence; and no frame comes from an alias of the daemon's or of the boards', except that the
 * former is asked for by CIDs.
 *
 * <p>The same seed gives the same frames, but for the daemon's alias, which it chooses itself.
 */
final class HostileNodes {

  /** How the events begin that are reported with a running number. */
  static final String NUMBERED = "0A58";

  private static final int ALIASES = 0x1000;
  private static final int TALKERS = 24;
  private static final int FIRST_TALKER = 0x7A0;
  private static final int UNDER_WAY_MAX = 40;

  private static final String RESERVED_ERROR_REPORT = "10713";

  private static final List<String> SIGNAL_EVENTS = BirchHollow.PRODUCED;
  private static final List<String> BOARD_EVENTS = Boards.events();

  /** S-9.7.0.4 §5.2, §5.3: what is told to people, and a clock that nobody follows. */
  private static final List<String> NOTICES =
      List.of(
          "010000000000FFF8",
          "010000000000FFF1",
          "010000000000FFF0",
          "010000000000FE00",
          "010000000000FD01",
          "0101000000000201",
          "0101000001000C1E",
          "010100000100F000");

  private final Random chance;
  private final Predicate<String> isTaken;
  private final Supplier<String> victim;
  private final List<List<String>> underWay = new ArrayList<>();
  private long reports;
  private StringBuilder text = new StringBuilder();

  private final List<Runnable> kinds =
      List.of(
          this::checkIds,
          this::aliasControl,
          this::aliasControl,
          this::aliasControl,
          this::numberedReport,
          this::numberedReport,
          this::eventTalk,
          this::eventTalk,
          this::notice,
          this::identity,
          this::addressed,
          this::addressed,
          this::goOn,
          this::goOn,
          this::goOn,
          this::goOn,
          this::goOn,
          this::goOn,
          this::reservedFormat,
          this::wrongEvent,
          this::noFrame,
          this::noFrame);

  /**
   * @param isTaken the aliases that no frame may come from
   * @param victim the daemon's alias
   */
  HostileNodes(Random chance, Predicate<String> isTaken, Supplier<String> victim) {
    this.chance = chance;
    this.isTaken = isTaken;
    this.victim = victim;
  }

  /** So many frames, or what looks like one. */
  String frames(int count) {
    text = new StringBuilder(32 * count);
    for (int number = 0; number < count; number++) {
      any(kinds).run();
    }
    return text.toString();
  }

  /** Makes the daemon's node start again (S-9.7.4.2 §4.24). */
  String restart() {
    return frame("1A" + victim.get(), talker(), "20A9");
  }

  /** How many numbered reports there were so far. */
  long reports() {
    return reports;
  }

  private <T> T any(List<T> choice) {
    return choice.get(chance.nextInt(choice.size()));
  }

  private String hex(int digits) {
    StringBuilder number = new StringBuilder(digits);
    for (int digit = 0; digit < digits; digit++) {
      number.append(Character.toUpperCase(Character.forDigit(chance.nextInt(16), 16)));
    }
    return number.toString();
  }

  private String bytes(int mostBytes) {
    return hex(2 * chance.nextInt(mostBytes + 1));
  }

  /** Any alias that is free to be abused, zero among them. */
  private String stranger() {
    String alias = "%03X".formatted(chance.nextInt(ALIASES));
    boolean isBoards = alias.charAt(0) == Boards.ALIAS.charAt(0);
    return isBoards || isTaken.test(alias) ? stranger() : alias;
  }

  /** One of a few that talk to the daemon at length. */
  private String talker() {
    String alias = "%03X".formatted(FIRST_TALKER + chance.nextInt(TALKERS));
    return isTaken.test(alias) ? talker() : alias;
  }

  private String someId() {
    return any(
        List.of(Boards.NODE, "0A5700000F02", "0A58000000" + hex(2), "00" + hex(10), hex(12)));
  }

  private static String frame(String header, String source, String data) {
    return ":X" + header + source + "N" + data + ";";
  }

  private void say(String header, String source, String data) {
    text.append(frame(header, source, data));
  }

  // Frame layer, S-9.7.2.1 §6

  private void checkIds() {
    String wanted = chance.nextInt(8) == 0 ? victim.get() : stranger();
    say("1" + (1 + chance.nextInt(7)) + hex(3), wanted, chance.nextInt(9) == 0 ? bytes(8) : "");
  }

  private void aliasControl() {
    String source = chance.nextBoolean() ? talker() : stranger();
    String data = any(List.of("", someId(), someId(), bytes(8)));
    switch (chance.nextInt(8)) {
      case 0 -> say("10700", source, "");
      case 1, 2 -> say("10701", source, data);
      case 3 -> say("10702", source, any(List.of("", data, Dut.NODE, Dut.NODE.substring(2))));
      case 4, 5 -> say("10703", source, any(List.of(data, Dut.NODE)));
      case 6 -> say("1071" + chance.nextInt(4), source, data);
      default -> say("10" + any(List.of("000", "704", "6FF", "FFF")), source, bytes(8));
    }
  }

  // Messages, S-9.7.3 and S-9.7.3.1

  private void numberedReport() {
    reports++;
    say("195B4", stranger(), NUMBERED + "%012X".formatted(reports));
  }

  private void eventTalk() {
    String event = any(List.of(hex(16), any(SIGNAL_EVENTS), any(BOARD_EVENTS)));
    List<String> harmless =
        List.of("198F4", "19914", "194C4", "194C5", "194C7", "194A4", "19524", "19594", "19970");
    say(any(harmless), stranger(), event);
    if (chance.nextInt(3) == 0) {
      say(any(List.of("195B4", "19544", "19545", "19546")), stranger(), any(SIGNAL_EVENTS));
    }
  }

  private void notice() {
    if (chance.nextInt(4) == 0) {
      say("195B4", talker(), any(NOTICES));
    } else {
      say("19F16", stranger(), hex(16));
    }
  }

  private void identity() {
    switch (chance.nextInt(3)) {
      case 0 -> say("19490", stranger(), any(List.of("", Dut.NODE, someId(), bytes(8))));
      case 1 -> say(any(List.of("19170", "19171")), stranger(), someId());
      default -> say(any(List.of("19100", "19101")), stranger(), "0A58000000" + hex(2));
    }
  }

  private void addressed() {
    String mti =
        any(
            List.of(
                "488",
                "828",
                "DE8",
                "968",
                "068",
                "0A8",
                "668",
                "A28",
                "A48",
                "4E8",
                "CC8",
                "888",
                any(List.of("A08", "1E8", "EA8")),
                hex(3)));
    String destination = chance.nextInt(4) == 0 ? hex(3) : victim.get();
    String framing = any(List.of("0", "0", "0", "1", "2", "3", "C"));
    say("19" + mti, talker(), framing + destination + bytes(6));
  }

  // What takes several frames, cut anywhere, and mixed with what others say

  private void goOn() {
    boolean isTimeForMore = underWay.size() < UNDER_WAY_MAX && chance.nextInt(3) == 0;
    if (isTimeForMore || underWay.isEmpty()) {
      underWay.add(new ArrayList<>(spoilt(begin())));
    }
    List<String> one = any(underWay);
    if (!one.isEmpty()) {
      text.append(one.remove(0));
    }
    if (one.isEmpty()) {
      underWay.remove(one);
    }
  }

  private List<String> begin() {
    return switch (chance.nextInt(6)) {
      case 0 -> longMessage(any(List.of("A08", "668", "068", "4E8")), hex(2 * chance.nextInt(260)));
      case 1 -> reportWithPayload();
      case 2 -> datagram(bytes(80));
      case 3 -> stream();
      default -> datagram("20" + memoryRequest());
    };
  }

  /** Half of them lose a frame, end early, or stammer. */
  private List<String> spoilt(List<String> frames) {
    List<String> some = new ArrayList<>(frames);
    int place = chance.nextInt(frames.size());
    switch (chance.nextInt(6)) {
      case 0 -> some.remove(place);
      case 1 -> some.subList(place, some.size()).clear();
      case 2 -> some.add(place, frames.get(place));
      default -> {}
    }
    return some;
  }

  private List<String> longMessage(String mti, String content) {
    String source = talker();
    String destination = victim.get();
    List<String> frames = new ArrayList<>();
    for (int from = 0; from == 0 || from < content.length(); from += 12) {
      boolean isLast = from + 12 >= content.length();
      String framing = from == 0 ? (isLast ? "0" : "1") : (isLast ? "2" : "3");
      String part = content.substring(from, Math.min(from + 12, content.length()));
      frames.add(frame("19" + mti, source, framing + destination + part));
    }
    return frames;
  }

  private List<String> reportWithPayload() {
    String source = talker();
    Stream<String> middle = Stream.generate(() -> frame("19F15", source, hex(16)));
    return Stream.of(
            Stream.of(frame("19F16", source, hex(16))),
            middle.limit(chance.nextInt(8)),
            Stream.of(frame("19F14", source, bytes(8))))
        .flatMap(frames -> frames)
        .toList();
  }

  private List<String> stream() {
    String header = "1F" + victim.get();
    String source = talker();
    return Stream.generate(() -> frame(header, source, bytes(8))).limit(3).toList();
  }

  /** Cut at any place, with frames of any length, empty ones too (S-9.7.3.2 §7.1). */
  private List<String> datagram(String content) {
    String source = talker();
    List<String> parts = new ArrayList<>();
    for (int from = 0; from < content.length(); ) {
      int length = Math.min(2 * chance.nextInt(9), content.length() - from);
      parts.add(content.substring(from, from + length));
      from += length;
    }
    if (parts.size() < 2 && chance.nextBoolean()) {
      return List.of(frame("1A" + victim.get(), source, parts.isEmpty() ? "" : parts.get(0)));
    }
    parts.add("");
    String destination = victim.get();
    List<String> frames = new ArrayList<>();
    for (int place = 0; place < parts.size(); place++) {
      String format = place == 0 ? "1B" : place == parts.size() - 1 ? "1D" : "1C";
      frames.add(frame(format + destination, source, parts.get(place)));
    }
    return frames;
  }

  /** S-9.7.4.2 §4, behind the content id; now and then one that starts the node again. */
  private String memoryRequest() {
    String command = any(List.of("40", "41", "42", "43", "00", "08", "50", "60", "80", "84", "88"));
    String near = "000000" + hex(2);
    return switch (chance.nextInt(8)) {
      case 0 -> bytes(70);
      case 1 -> any(List.of("A8", "8C0" + chance.nextInt(8), "A000", "AA" + hex(12), "FF"));
      case 2 -> chance.nextInt(25) == 0 ? any(List.of("A9", "AA" + Dut.NODE)) : "80";
      case 3 -> "00" + near + any(List.of("FB", "FF", "FD", hex(2))) + bytes(66);
      case 4 -> command + hex(8) + bytes(64);
      default -> "40" + near + any(List.of("FB", "FC", "FD", "FF", hex(2))) + hex(2);
    };
  }

  // What no node may take for what it looks like

  private void reservedFormat() {
    switch (chance.nextInt(3)) {
      case 0 -> say(any(List.of("18", "1E")) + hex(3), stranger(), any(BOARD_EVENTS));
      case 1 -> say(RESERVED_ERROR_REPORT, stranger(), bytes(8));
      default -> say(any(List.of("10701", "17123", "1A", "1B")), stranger(), any(BOARD_EVENTS));
    }
  }

  /** A board's event that is too short, too long, in a standard or remote frame, or too high. */
  private void wrongEvent() {
    String event = any(BOARD_EVENTS);
    int cut = 2 * chance.nextInt(8);
    text.append(
        switch (chance.nextInt(6)) {
          case 0 -> ":X195B4123N" + event.substring(0, cut) + ";";
          case 1 -> ":X195B4123N" + event + "00;";
          case 2 -> ":S5B4N" + event + ";";
          case 3 -> ":X195B4123R" + event + ";";
          case 4 -> ":XF95B4123N" + event + ";";
          default -> ":X195B4123N" + event.substring(0, cut) + any(List.of(":", "\n", "\0", "G"));
        });
  }

  private void noFrame() {
    text.append(
        switch (chance.nextInt(8)) {
          case 0 -> noise(1 + chance.nextInt(40));
          case 1 -> ":X" + hex(9 + chance.nextInt(4)) + "N" + bytes(8) + ";";
          case 2 -> ":X19490123N" + hex(18 + chance.nextInt(200)) + ";";
          case 3 -> any(List.of(";;;;;;", "::::::", "\r\n \t", "\0\0\0\0\0\0\0", "N", "X195B4"));
          case 4 -> ":X" + hex(chance.nextInt(9)) + any(List.of("", ";", "N", ":", "\n"));
          case 5 -> ":X19490" + stranger() + "N" + hex(1 + 2 * chance.nextInt(8)) + ";";
          case 6 -> ":S" + hex(3) + any(List.of("N", "R")) + bytes(8) + ";";
          default -> ":X19490" + stranger() + "N" + bytes(7) + noise(1) + ";";
        });
  }

  private String noise(int length) {
    byte[] bytes = new byte[length];
    chance.nextBytes(bytes);
    return new String(bytes, StandardCharsets.ISO_8859_1) + "\n";
  }
}
