package tappet.bridge.record;

import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;

/** The lines of a file of which nobody knows what it is: none takes more memory than it may. */
final class BoundedLines implements Closeable {

  /** More than any line of a recording has. */
  static final int BYTES_MAX = 4096;

  private final InputStream bytes;
  private final ByteArrayOutputStream line = new ByteArrayOutputStream();
  private int number;
  private boolean whole = true;
  private boolean tooLong;

  BoundedLines(InputStream bytes) {
    this.bytes = new BufferedInputStream(bytes, 1 << 16);
  }

  /** The next line without its end; null behind the last one, and behind one that is too long. */
  String next() throws IOException {
    line.reset();
    int symbol = tooLong ? -1 : bytes.read();
    if (symbol < 0) {
      return null;
    }
    number++;
    while (symbol >= 0 && symbol != '\n' && line.size() <= BYTES_MAX) {
      line.write(symbol);
      symbol = bytes.read();
    }
    whole = symbol == '\n';
    tooLong = line.size() > BYTES_MAX;
    String text = line.toString(StandardCharsets.UTF_8);
    return text.endsWith("\r") ? text.substring(0, text.length() - 1) : text;
  }

  /** The number of the line that was read last, from 1. */
  int number() {
    return number;
  }

  /** Whether that line has its end. */
  boolean whole() {
    return whole;
  }

  /** Whether that line was too long, and nothing is read behind it. */
  boolean tooLong() {
    return tooLong;
  }

  @Override
  public void close() throws IOException {
    bytes.close();
  }
}
