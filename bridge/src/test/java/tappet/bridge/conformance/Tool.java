package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.stream.IntStream;

/**
 * A configuration tool: it speaks in datagrams (S-9.7.3.2), reads and writes memory (S-9.7.4.2) and
 * asks for names (S-9.7.4.3). All bytes are written in hexadecimal, as on the wire.
 */
final class Tool {

  /** The most bytes one command reads or writes (S-9.7.4.2 §4.4, §4.8). */
  static final int COUNT_MAX = 64;

  private static final HexFormat HEX = HexFormat.of().withUpperCase();
  private static final int DIGITS_OF_A_FRAME = 16;

  private final Tester tester;
  private final String alias;

  /**
   * @param alias the letters that stand for its alias
   */
  Tool(Tester tester, String alias) {
    this.tester = tester;
    this.alias = alias;
  }

  /** A text as bytes, closed by a zero byte. */
  static String text(String words) {
    return HEX.formatHex((words + '\0').getBytes(StandardCharsets.UTF_8));
  }

  static byte[] bytes(String digits) {
    return HEX.parseHex(digits);
  }

  /** Sends a datagram, cut into full frames. */
  void send(String datagram) {
    tester.send(frames(datagram.replace(" ", "")));
  }

  private String[] frames(String datagram) {
    int last = Math.max(0, datagram.length() - 1) / DIGITS_OF_A_FRAME;
    return IntStream.rangeClosed(0, last)
        .mapToObj(frame -> header(frame, last) + piece(datagram, frame))
        .toArray(String[]::new);
  }

  private String header(int frame, int last) {
    String part = last == 0 ? "A" : frame == 0 ? "B" : frame == last ? "D" : "C";
    return "1" + part + "ddd" + alias;
  }

  private static String piece(String datagram, int frame) {
    int from = frame * DIGITS_OF_A_FRAME;
    return datagram.substring(from, Math.min(datagram.length(), from + DIGITS_OF_A_FRAME));
  }

  /** The datagram is taken, and no reply will follow. */
  void expectTaken() {
    tester.expect("19A28ddd 0" + alias + " 00");
  }

  /** The datagram is taken, and a reply will follow at any time (S-9.7.3.2 §4.2). */
  void expectReplyPending() {
    tester.expect("19A28ddd 0" + alias + " 80");
  }

  /** The datagram is refused for this reason. */
  void expectRefused(String errorCode) {
    tester.expect("19A48ddd 0" + alias + " " + errorCode);
  }

  /** The device's datagram, whose frames come one behind the other. */
  String hearDatagram() {
    Heard heard = tester.expect("1[AB]" + alias + "ddd *");
    StringBuilder content = new StringBuilder(heard.data());
    while (heard.header().matches("1[BC].*")) {
      heard = tester.expect("1[CD]" + alias + "ddd *");
      content.append(heard.data());
    }
    return content.toString();
  }

  /** Takes the device's datagram. */
  void acknowledge() {
    tester.send("19A28" + alias + " 0ddd 00");
  }

  /** Sends a datagram that is answered by another; answers that. */
  String ask(String datagram) {
    send(datagram);
    expectReplyPending();
    String reply = hearDatagram();
    acknowledge();
    return reply;
  }

  /** Reads bytes of a space. */
  String read(String space, int address, int count) {
    String place = "%08X%s".formatted(address, space);
    String reply = ask("2040" + place + "%02X".formatted(count));
    assertEquals("2050" + place, reply.substring(0, 14));
    return reply.substring(14);
  }

  /** Reads a text up to its zero byte. */
  String readText(String space, int address, int size) {
    return textIn(bytes(read(space, address, size)), 0);
  }

  /** The text in some bytes, up to a zero byte. */
  static String textIn(byte[] bytes, int from) {
    int end = from;
    while (bytes[end] != 0) {
      end++;
    }
    return new String(bytes, from, end - from, StandardCharsets.UTF_8);
  }

  /** Reads the description, 64 bytes at a time, up to its zero byte (S-9.7.4.1 §5). */
  String readDescription() {
    StringBuilder digits = new StringBuilder();
    do {
      digits.append(read("FF", digits.length() / 2, COUNT_MAX));
    } while (!digits.toString().endsWith("00"));
    return digits.toString();
  }

  /** Writes bytes to a space; there is nothing more to be heard of it. */
  void write(String space, int address, String content) {
    send("2000%08X%s".formatted(address, space) + content);
    expectTaken();
  }

  /** Names the node, and hears it announce itself again until it has nothing left to say. */
  void name(String name, String description) {
    write("FB", 1, text(name));
    tester.hearItOut();
    write("FB", 64, text(description));
    tester.hearItOut();
  }

  /** Asks for the node's names and versions; answers the whole of them. */
  String askNames() {
    tester.send("19DE8" + alias + " 0ddd");
    return hearNames();
  }

  /** The node's names and versions, in the frames of one message (S-9.7.4.3 §6.2). */
  String hearNames() {
    Heard heard = tester.expect("19A08ddd 1" + alias + " *");
    StringBuilder content = new StringBuilder(heard.content());
    while (!heard.data().startsWith("2")) {
      heard = tester.expect("19A08ddd [23]" + alias + " *");
      content.append(heard.content());
    }
    return content.toString();
  }
}
