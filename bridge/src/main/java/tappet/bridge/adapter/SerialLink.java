package tappet.bridge.adapter;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.lcc.CanFrame;

/**
 * Frames over a serial device, from one opening of it to its end. A reader thread opens the device,
 * moves bytes in and closes it; a writer thread moves bytes out. Neither decides anything.
 */
final class SerialLink {

  /** Ten seconds' worth of frames at 115,200 bits a second, each way. */
  static final int QUEUE_FRAMES_MAX = 4096;

  static final int PIECE_BYTES = 1024;
  private static final int PAUSE_MS = 100;
  private static final int FAREWELL_MS = 1_000;
  private static final String CLOSED = "was closed";
  private static final String GONE = "does not answer: device gone";

  private final Hub hub;
  private final Connection owner;
  private final SerialDevice device;
  private final SerialCodec codec;
  private final TrafficCount traffic;
  private final LineWatcher watcher;

  private final BlockingQueue<CanFrame> queue = new ArrayBlockingQueue<>(QUEUE_FRAMES_MAX);

  /** For frames that the hub has not taken yet; of a flood the rest waits in the device. */
  private final Semaphore room = new Semaphore(QUEUE_FRAMES_MAX);

  private final AtomicReference<String> whyEnded = new AtomicReference<>();

  /**
   * @param owner the connection in whose name frames are heard
   * @param codec fresh, for this opening only
   * @param watcher told of the device's opening and end
   */
  SerialLink(
      Hub hub,
      Connection owner,
      SerialDevice device,
      SerialCodec codec,
      TrafficCount traffic,
      LineWatcher watcher) {
    this.hub = hub;
    this.owner = owner;
    this.device = device;
    this.codec = codec;
    this.traffic = traffic;
    this.watcher = watcher;
  }

  /** Opens the device; does not wait for it. */
  void start() {
    Threads.start("read " + device.path(), this::serve);
  }

  private void serve() {
    try {
      serve(device.open());
    } catch (IOException e) {
      end(e.getMessage());
    } catch (RuntimeException | LinkageError e) {
      // LinkageError: the serial library has nothing for this kind of machine.
      end("cannot be used: " + e);
    }
    hub.onLoop(() -> watcher.lineDown(whyEnded.get()));
  }

  private void serve(SerialPort port) {
    hub.onLoop(watcher::lineUp);
    Thread writer = Threads.start("write " + device.path(), () -> write(port));
    try {
      read(port);
      awaitFarewell(writer);
      hearAnswer(port);
    } finally {
      // Closing also frees a writer whose bytes nobody takes.
      port.closePort();
      writer.interrupt();
    }
  }

  private void awaitFarewell(Thread writer) {
    try {
      writer.join(FAREWELL_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /**
   * Closing a device throws away what it has not passed on yet, so what was said last has its time:
   * until nothing has been heard for as long as a read waits.
   */
  private void hearAnswer(SerialPort port) {
    boolean isSaid = CLOSED.equals(whyEnded.get()) && codec.farewell().length > 0;
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(FAREWELL_MS);
    byte[] piece = new byte[PIECE_BYTES];
    while (isSaid && System.nanoTime() - endNs < 0 && port.readBytes(piece, piece.length) > 0) {
      // What is heard now is for nobody.
    }
  }

  private void read(SerialPort port) {
    byte[] piece = new byte[PIECE_BYTES];
    while (whyEnded.get() == null) {
      int length = port.readBytes(piece, piece.length);
      long nowNs = System.nanoTime();
      if (length > 0) {
        handOver(codec.feed(piece, 0, length, nowNs));
      } else if (length < 0 || isGone(port)) {
        end(GONE);
      }
      codec.passTime(nowNs);
    }
    codec.end();
  }

  private void handOver(List<CanFrame> frames) {
    int count = frames.size();
    if (count > 0 && awaitRoom(count)) {
      hub.framesFrom(owner, frames);
      hub.onLoop(() -> room.release(count));
    }
  }

  /** Whether the hub has taken enough of what came before; false once the link is to end. */
  private boolean awaitRoom(int count) {
    boolean hasRoom = false;
    try {
      while (!hasRoom && whyEnded.get() == null) {
        hasRoom = room.tryAcquire(count, PAUSE_MS, TimeUnit.MILLISECONDS);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return hasRoom;
  }

  /** A device pulled out may read as silence for ever; asked for its bytes, it fails. */
  private static boolean isGone(SerialPort port) {
    return !port.isOpen() || port.bytesAvailable() < 0;
  }

  private void write(SerialPort port) {
    try {
      writeWhole(port, codec.greeting(), codec.greeting().length);
      writeFrames(port);
      if (CLOSED.equals(whyEnded.get())) {
        port.writeBytes(codec.farewell(), codec.farewell().length);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // The reader ended the link.
    } catch (RuntimeException e) {
      end("cannot be used: " + e);
    }
  }

  private void writeFrames(SerialPort port) throws InterruptedException {
    byte[] piece = new byte[PIECE_BYTES];
    long askedNs = System.nanoTime();
    while (whyEnded.get() == null) {
      int length = 0;
      if (System.nanoTime() - askedNs >= SerialCodec.QUESTION_NS) {
        askedNs = System.nanoTime();
        length = append(codec.question(), piece);
      }
      writeWhole(port, piece, gather(piece, length));
    }
  }

  private static int append(byte[] question, byte[] piece) {
    System.arraycopy(question, 0, piece, 0, question.length);
    return question.length;
  }

  /** Waits a moment for a frame and takes what else fits into one write; answers where it ends. */
  private int gather(byte[] piece, int offset) throws InterruptedException {
    int end = offset;
    CanFrame frame = queue.poll(PAUSE_MS, TimeUnit.MILLISECONDS);
    while (frame != null) {
      traffic.framesOut.increment();
      end = codec.write(frame, piece, end);
      frame = end + SerialCodec.BYTES_MAX <= piece.length ? queue.poll() : null;
    }
    return end;
  }

  private void writeWhole(SerialPort port, byte[] piece, int length) {
    int done = 0;
    while (done < length && whyEnded.get() == null) {
      int written = port.writeBytes(piece, length - done, done);
      if (written <= 0) {
        end(GONE);
      }
      done += written;
    }
  }

  /** Takes a frame for the writer; a device that takes none in time is given up. */
  void send(CanFrame frame) {
    if (!queue.offer(frame)) {
      end("was dropped: it takes no frames, and " + QUEUE_FRAMES_MAX + " wait for it");
    }
  }

  /** Has the threads say what is said last, and end soon. */
  void close() {
    end(CLOSED);
  }

  /** Has the threads end soon; the first reason given is the one told. From any thread. */
  void end(String why) {
    whyEnded.compareAndSet(null, why);
  }
}
