package tappet.bridge.record;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;

/** A log that grows by whole lines: what could be written only in part is taken back. */
final class FrameLogFile implements Closeable {

  private final Path path;
  private FileChannel channel;

  private FrameLogFile(Path path, FileChannel channel) {
    this.path = path;
    this.channel = channel;
  }

  static FrameLogFile open(Path path) throws IOException {
    return new FrameLogFile(path, channelAtEnd(path));
  }

  private static FileChannel channelAtEnd(Path path) throws IOException {
    FileChannel channel =
        FileChannel.open(
            path, StandardOpenOption.CREATE, StandardOpenOption.WRITE, StandardOpenOption.READ);
    try {
      channel.position(endOfLastLine(channel));
      return channel;
    } catch (IOException e) {
      channel.close();
      throw e;
    }
  }

  /** A machine that lost its power may have left half a line. */
  private static long endOfLastLine(FileChannel channel) throws IOException {
    ByteBuffer symbol = ByteBuffer.allocate(1);
    long end = channel.size();
    while (end > 0) {
      channel.read(symbol.clear(), end - 1);
      if (symbol.get(0) == '\n') {
        return end;
      }
      end--;
    }
    return 0;
  }

  Path path() {
    return path;
  }

  /**
   * Appends lines, which come without their ends.
   *
   * @throws IOException if not all could be written; then none is, and the file is opened anew by
   *     the next call
   */
  void append(List<String> lines) throws IOException {
    if (channel == null) {
      channel = channelAtEnd(path);
    }
    long before = channel.position();
    try {
      writeWhole(bytes(lines));
    } catch (IOException e) {
      giveUp(before, e);
      throw e;
    }
  }

  private static ByteBuffer bytes(List<String> lines) {
    StringBuilder text = new StringBuilder(lines.size() * FrameLogText.LINE_MAX);
    lines.forEach(line -> text.append(line).append('\n'));
    return ByteBuffer.wrap(text.toString().getBytes(StandardCharsets.UTF_8));
  }

  private void writeWhole(ByteBuffer bytes) throws IOException {
    while (bytes.hasRemaining()) {
      channel.write(bytes);
    }
  }

  private void giveUp(long before, IOException cause) {
    try (FileChannel broken = channel) {
      channel = null;
      broken.truncate(before);
    } catch (IOException e) {
      cause.addSuppressed(e);
    }
  }

  @Override
  public void close() throws IOException {
    if (channel != null) {
      channel.truncate(channel.position());
      channel.close();
    }
  }
}
