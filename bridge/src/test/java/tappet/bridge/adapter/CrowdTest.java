package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.zip.CRC32C;
import org.awaitility.core.ConditionFactory;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/** Many clients, and bad ones among them, over real sockets. Common practice, no source. */
class CrowdTest {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int STORM_CLIENTS = 100;

  private final HubUnderTest test = new HubUnderTest();
  private TcpServer server;

  @BeforeEach
  void open() throws IOException {
    server = TcpServer.open(test.hub(), new InetSocketAddress(InetAddress.getLoopbackAddress(), 0));
  }

  @AfterEach
  void close() {
    server.close();
    test.close();
  }

  @Test
  void oneOfFiftyClientsThatNeverReadsIsDroppedAndTheOthersMissNothing() throws Exception {
    Socket deaf = join();
    List<Listener> listeners = new ArrayList<>();
    for (int client = 1; client < 50; client++) {
      listeners.add(new Listener(join()));
    }
    await().atMost(PATIENCE).until(() -> test.hub().connections().size() == 50);
    listeners.forEach(Thread::start);
    CRC32C said = new CRC32C();
    int batch = 2_000;

    int sent = 0;
    while (test.hub().connections().size() == 50) {
      int from = sent;
      soon().until(() -> listeners.stream().allMatch(one -> from - one.frames() < 3L * batch));
      List<CanFrame> frames = Frames.numbered(1, sent, sent + batch);
      test.hub().sendAll(frames);
      said.update(text(frames));
      sent += batch;
      test.settle();
    }
    int all = sent;
    await().atMost(PATIENCE).until(() -> listeners.stream().allMatch(one -> one.frames() == all));

    for (Listener listener : listeners) {
      assertEquals(said.getValue(), listener.end());
    }
    String why = " was dropped: it does not read, and more than 512 KiB wait for it";
    String name = "TCP client 127.0.0.1:" + deaf.getLocalPort();
    assertTrue(test.news().contains(name + why), test.news().toString());
    assertEquals(0, test.hub().counters().faults());
    deaf.close();
  }

  @Test
  void stormOfClientsThatComeAndGoCostsSteadyOnesNothing() throws Exception {
    int frames = 10_000;
    PlainPeer west = PlainPeer.connect(server.address());
    PlainPeer east = PlainPeer.connect(server.address());
    await().atMost(PATIENCE).until(() -> test.hub().connections().size() == 2);
    Storm storm = new Storm();
    storm.start();
    await().atMost(PATIENCE).until(() -> storm.count > 0);

    Hearer westHears = new Hearer(west, frames);
    Hearer eastHears = new Hearer(east, frames);
    Speaker westSays = new Speaker(west, Frames.numbered(1, 0, frames), storm);
    Speaker eastSays = new Speaker(east, Frames.numbered(2, 0, frames), storm);
    for (Thread one : List.of(westHears, eastHears, westSays, eastSays)) {
      one.start();
    }
    for (Thread one : List.of(westSays, eastSays, westHears, eastHears)) {
      one.join();
    }
    storm.end();

    assertEquals(hash(Frames.numbered(2, 0, frames)), westHears.hash);
    assertEquals(hash(Frames.numbered(1, 0, frames)), eastHears.hash);
    await().atMost(PATIENCE).until(() -> test.hub().connections().size() == 2);
    assertEquals(2L * frames, test.hub().counters().heard());
    assertEquals(0, test.hub().counters().faults());
    assertEquals(storm.count + 2L, news(" is up"));
    assertEquals(storm.count, test.news().size() - news(" is up"));
    assertTrue(storm.count >= STORM_CLIENTS, storm.count + " clients came and went");
    west.close();
    east.close();
  }

  private static ConditionFactory soon() {
    return await().atMost(PATIENCE).pollDelay(Duration.ZERO).pollInterval(Duration.ofMillis(1));
  }

  private long news(String end) {
    return test.news().stream().filter(line -> line.endsWith(end)).count();
  }

  private Socket join() throws IOException {
    return new Socket(server.address().getAddress(), server.address().getPort());
  }

  private static byte[] text(List<CanFrame> frames) {
    return frames.stream()
        .map(FrameText::encode)
        .collect(Collectors.joining())
        .getBytes(StandardCharsets.US_ASCII);
  }

  private static long hash(List<CanFrame> frames) {
    return frames.stream().mapToLong(CanFrame::hashCode).reduce(0, (sum, next) -> 31 * sum + next);
  }

  /** Hears all the time, and keeps a check sum of the bytes instead of the frames. */
  private static final class Listener extends Thread {
    private static final int FRAME_BYTES = FrameText.encode(Frames.numbered(1, 1)).length();

    private final Socket socket;
    private final CRC32C sum = new CRC32C();
    private volatile long bytes;

    Listener(Socket socket) {
      this.socket = socket;
    }

    @Override
    public void run() {
      byte[] piece = new byte[64 * 1024];
      long heard = 0;
      try (InputStream in = socket.getInputStream()) {
        for (int length = in.read(piece); length >= 0; length = in.read(piece)) {
          sum.update(piece, 0, length);
          heard += length;
          bytes = heard;
        }
      } catch (IOException e) {
        // The test hung up.
      }
    }

    long frames() {
      return bytes / FRAME_BYTES;
    }

    long end() throws IOException, InterruptedException {
      socket.close();
      join();
      return sum.getValue();
    }
  }

  private static final class Hearer extends Thread {
    private final PlainPeer peer;
    private final int frames;
    private long hash;

    Hearer(PlainPeer peer, int frames) {
      this.peer = peer;
      this.frames = frames;
    }

    @Override
    public void run() {
      for (int heard = 0; heard < frames; heard++) {
        hash = 31 * hash + peer.hear().hashCode();
      }
    }
  }

  /** Says its frames in batches, no faster than the storm blows. */
  private static final class Speaker extends Thread {
    private final PlainPeer peer;
    private final List<CanFrame> frames;
    private final Storm storm;

    Speaker(PlainPeer peer, List<CanFrame> frames, Storm storm) {
      this.storm = storm;
      this.peer = peer;
      this.frames = frames;
    }

    @Override
    public void run() {
      for (int from = 0; from < frames.size(); from += 50) {
        int clients = from * STORM_CLIENTS / frames.size();
        soon().until(() -> storm.count >= clients);
        byte[] text = text(frames.subList(from, from + 50));
        peer.say(text, 0, text.length);
      }
    }
  }

  /** Clients that come, say half a frame and go, each second one without a farewell. */
  private final class Storm extends Thread {
    private volatile boolean isOver;
    private volatile int count;

    @Override
    public void run() {
      while (!isOver) {
        PlainPeer client = PlainPeer.connect(server.address());
        client.say(":X195B4003N0102");
        int before = count;
        // It must be seen to count: a client gone before it is accepted was never there.
        soon().until(() -> news(" is up") >= before + 3);
        leave(client, before);
        count = before + 1;
      }
    }

    private void leave(PlainPeer client, int number) {
      if (number % 2 == 0) {
        client.kill();
      } else {
        client.close();
      }
    }

    void end() {
      isOver = true;
      try {
        join();
      } catch (InterruptedException e) {
        throw new UncheckedIOException(new IOException(e));
      }
    }
  }
}
