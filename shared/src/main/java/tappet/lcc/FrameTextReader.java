package tappet.lcc;

import java.util.function.Consumer;

/**
 * Reads CAN frames from a stream of bytes in text form, however the stream is cut.
 *
 * <p>No adopted standard gives a grammar of this form; it is known from the examples printed in
 * TN-9.7.4.4 §4. This reader takes those and what a lenient peer may send: either case, headers of
 * one to eight digits, and anything at all between {@code ;} and the next {@code :}. A start mark
 * always starts a frame, so one broken frame costs at most itself.
 *
 * <pre>
 *            :              X              N           ;
 *   BETWEEN ───► FRAME_KIND ───► HEADER ───► DATA ───► frame, BETWEEN
 *      ▲              │             │          │
 *      └──────────────┴─────────────┴──────────┘ anything unexpected: malformed
 * </pre>
 *
 * <p>Standard 11-bit frames ({@code :S…}), remote frames ({@code R} for {@code N}) and headers
 * above 29 bits are skipped as malformed: an LCC node must keep working when they pass by
 * (S-9.7.2.1 §4). The reader keeps one frame's worth of state and never allocates but for the
 * frames it reads. Not for use by several threads at once.
 */
public final class FrameTextReader {

  private enum State {
    BETWEEN,
    FRAME_KIND,
    HEADER,
    DATA
  }

  private static final int DATA_DIGITS_MAX = 2 * CanFrame.LENGTH_MAX;

  private State state = State.BETWEEN;
  private long header;
  private long data;
  private int digits;
  private int symbolsOfFrame;

  private long framesRead;
  private long skippedBytes;
  private long malformed;

  /**
   * Reads {@code length} bytes and hands every frame that ends in them to {@code frames}, in order.
   *
   * @throws IndexOutOfBoundsException if the bytes asked for lie outside {@code bytes}
   */
  public void feed(byte[] bytes, int offset, int length, Consumer<CanFrame> frames) {
    for (int index = offset; index < offset + length; index++) {
      feed(bytes[index], frames);
    }
  }

  /** Reads one byte; if a frame ends with it, {@code frames} gets the frame. */
  public void feed(byte symbol, Consumer<CanFrame> frames) {
    if (symbol == FrameText.START) {
      startFrame();
      return;
    }
    symbolsOfFrame++;
    switch (state) {
      case BETWEEN -> skip(symbol);
      case FRAME_KIND -> readFrameKind(symbol);
      case HEADER -> readHeader(symbol);
      case DATA -> readData(symbol, frames);
    }
  }

  /** How many frames have been read. */
  public long framesRead() {
    return framesRead;
  }

  /**
   * How many bytes belonged to no frame that could be read. White space between frames is not
   * counted; bytes of a frame that has only begun are not counted yet.
   */
  public long skippedBytes() {
    return skippedBytes;
  }

  /** How many frames were begun with a start mark and given up. */
  public long malformed() {
    return malformed;
  }

  private void startFrame() {
    if (state != State.BETWEEN) {
      giveUp();
    }
    state = State.FRAME_KIND;
    header = 0;
    data = 0;
    digits = 0;
    symbolsOfFrame = 1;
  }

  private void skip(byte symbol) {
    if (!Character.isWhitespace(symbol)) {
      skippedBytes++;
    }
  }

  private void readFrameKind(byte symbol) {
    if (Character.toUpperCase(symbol) == FrameText.EXTENDED) {
      state = State.HEADER;
    } else {
      giveUp();
    }
  }

  private void readHeader(byte symbol) {
    int digit = Character.digit(symbol, 16);
    if (digit >= 0 && digits < FrameText.HEADER_DIGITS) {
      header = (header << 4) | digit;
      digits++;
    } else if (Character.toUpperCase(symbol) == FrameText.DATA_FRAME && isHeaderWhole()) {
      state = State.DATA;
      digits = 0;
    } else {
      giveUp();
    }
  }

  private boolean isHeaderWhole() {
    return digits > 0 && header <= CanFrame.HEADER_MAX;
  }

  private void readData(byte symbol, Consumer<CanFrame> frames) {
    int digit = Character.digit(symbol, 16);
    if (digit >= 0 && digits < DATA_DIGITS_MAX) {
      data = (data << 4) | digit;
      digits++;
    } else if (symbol == FrameText.END && digits % 2 == 0) {
      endFrame(frames);
    } else {
      giveUp();
    }
  }

  private void endFrame(Consumer<CanFrame> frames) {
    state = State.BETWEEN;
    framesRead++;
    frames.accept(CanFrame.of((int) header, digits / 2, data));
  }

  private void giveUp() {
    state = State.BETWEEN;
    malformed++;
    skippedBytes += symbolsOfFrame;
  }
}
