package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.layout.Layout;
import tappet.layout.PowerDistrict;
import tappet.lcc.EventId;
import tappet.lcc.FrameText;
import tappet.lcc.Message;
import tappet.sentence.Condition.Occupancy;
import tappet.source.Problems;

/** What first-signal.md promises of {@code listen only}: the daemon hears, and says nothing. */
class OverheardBusTest {

  private static final String SECTION = "west-main";
  private static final int BOARD = 0x123;

  @TempDir Path folder;

  @Test
  void daemonThatOnlyListensHearsTheBusAndSaysNothingThereTillItsEnd() throws Exception {
    QuickLine.write(folder);
    OwnerFiles.Railroad railroad = QuickLine.read(folder);
    try (ServerSocket bus = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      bus.setSoTimeout((int) JavaProcess.PATIENCE.toMillis());
      Socket line;
      try (Daemon daemon =
          Daemon.start(settings(bus.getLocalPort()), QuickLine.charted(railroad))) {
        line = bus.accept();
        say(line, powerOf(railroad.layout()).restored());
        say(line, railroad.layout().sections().get(SECTION).occupied());
        await().atMost(JavaProcess.PATIENCE).until(() -> seen(daemon) == Occupancy.OCCUPIED);
      }
      try (line) {
        byte[] told = line.getInputStream().readAllBytes();
        assertEquals("", new String(told, StandardCharsets.US_ASCII));
      }
    }
  }

  private Settings settings(int port) throws IOException {
    Path file =
        QuickLine.settings(folder, "[{tcp: 127.0.0.1:%d, listen only: yes}]".formatted(port));
    Problems problems = new Problems();
    var settings = SettingsReader.read(file, Files.readString(file), problems);
    assertEquals(List.of(), problems.sorted());
    return settings.orElseThrow();
  }

  private static PowerDistrict powerOf(Layout layout) {
    return layout.lineside().districtOf(SECTION).orElseThrow();
  }

  private static void say(Socket line, EventId event) throws IOException {
    String text = FrameText.encode(new Message.EventReport(BOARD, event).encode());
    line.getOutputStream().write(text.getBytes(StandardCharsets.US_ASCII));
  }

  private static Occupancy seen(Daemon daemon) throws Exception {
    return daemon
        .box()
        .ask((box, nowNs) -> box.interlocking().occupancy(SECTION))
        .get(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }
}
