package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.DataInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.util.HexFormat;
import java.util.function.Predicate;
import tappet.bridge.JavaProcess;

/**
 * A node behind a link with binary messages, written byte by byte as TCP-S (draft) §4 has them:
 * flags, length, who put it on the link and when, and then the message.
 */
final class DraftPeer implements AutoCloseable {

  static final String NODE = "02010D123456";

  private static final HexFormat HEX = HexFormat.of().withUpperCase();
  private static final String WHOLE = "8000";
  private static final String TIME = "000000000001";

  /** The answer to whoever looks for the tester (S-9.7.3 §3.4.2): the layout's one board. */
  private static final String TESTER_IS_THERE = "0170" + Tester.NODE + Tester.NODE;

  /** The node id of the one that put it on the link, and the time. */
  private static final int PREFIX_BYTES = 12;

  private final Socket socket;
  private final DataInputStream input;

  DraftPeer(int port) throws IOException {
    socket = new Socket(InetAddress.getLoopbackAddress(), port);
    socket.setTcpNoDelay(true);
    socket.setSoTimeout((int) JavaProcess.PATIENCE.toMillis());
    input = new DataInputStream(socket.getInputStream());
  }

  int port() {
    return socket.getLocalPort();
  }

  /** Spaces stand anywhere. */
  static String transfer(String message) {
    String digits = message.replace(" ", "");
    return WHOLE + "%06X".formatted(PREFIX_BYTES + digits.length() / 2) + NODE + TIME + digits;
  }

  void say(String message) {
    sendHex(transfer(message));
  }

  void sendHex(String digits) {
    send(HEX.parseHex(digits));
  }

  void send(byte... bytes) {
    try {
      socket.getOutputStream().write(bytes);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The next message, which the daemon has put on the link. */
  String hear() {
    try {
      assertEquals(0x8000, input.readUnsignedShort(), "flags");
      int length = input.readUnsignedByte() << 16 | input.readUnsignedShort();
      byte[] rest = input.readNBytes(length);
      assertEquals(Dut.NODE, HEX.formatHex(rest, 0, 6));
      return HEX.formatHex(rest, PREFIX_BYTES, length);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Passes over what the daemon says of itself, and what it is told when it looks for boards. */
  void expect(String message) {
    String wanted = message.replace(" ", "");
    assertEquals(
        wanted,
        hearUntil(
            heard ->
                heard.equals(wanted)
                    || !(heard.startsWith(Dut.NODE, 4) || heard.equals(TESTER_IS_THERE))));
  }

  /** The first message of this kind; others are passed over. */
  String hearUntil(Predicate<String> wanted) {
    long endNs = System.nanoTime() + JavaProcess.PATIENCE.toNanos();
    String heard = hear();
    while (!wanted.test(heard)) {
      assertTrue(
          System.nanoTime() - endNs < 0, "nothing but what was passed over, such as " + heard);
      heard = hear();
    }
    return heard;
  }

  /** Waits for the daemon to hang up. */
  void expectEnd() throws IOException {
    assertEquals(-1, skipToEnd());
  }

  private int skipToEnd() throws IOException {
    byte[] piece = new byte[4096];
    int length = 0;
    while (length >= 0) {
      length = input.read(piece);
    }
    return length;
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
