package tappet.bridge.adapter;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.ByteBufAllocator;
import io.netty.util.concurrent.FastThreadLocal;
import java.util.List;
import tappet.bridge.hub.FrameBatch;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/**
 * The text of frames on their way to many clients, written once for all. The hub gives one batch to
 * all its connections before the next, so a batch just written is the one asked for again. There is
 * one for each event loop.
 */
final class SharedText {

  private static final int BYTES = 128 * 1024;
  private static final int TEXT_BYTES = 8 * 1024;

  private static final FastThreadLocal<SharedText> OF_LOOP =
      new FastThreadLocal<>() {
        @Override
        protected SharedText initialValue() {
          return new SharedText();
        }

        @Override
        protected void onRemoval(SharedText text) {
          text.buffer.release();
        }
      };

  private final byte[] piece = new byte[BYTES];
  private final byte[] text = new byte[TEXT_BYTES];
  private ByteBuf buffer = ByteBufAllocator.DEFAULT.directBuffer(BYTES, BYTES);
  private int bufferNumber;
  private FrameBatch latest;
  private int start;

  private SharedText() {}

  /** The one of the event loop on whose thread this is called. */
  static SharedText ofThisLoop() {
    return OF_LOOP.get();
  }

  /** Room for bytes just heard; whoever takes it is done with it when the next call comes. */
  byte[] piece() {
    return piece;
  }

  /** Sees to it that the text of a batch is in the buffer, and answers where it starts. */
  int write(FrameBatch batch) {
    if (batch != latest) {
      latest = batch;
      writeWhole(batch.frames());
    }
    return start;
  }

  private void writeWhole(List<CanFrame> frames) {
    makeRoom(frames.size() * FrameText.TEXT_LENGTH_MAX);
    start = buffer.writerIndex();
    int length = 0;
    for (int i = 0; i < frames.size(); i++) {
      if (length + FrameText.TEXT_LENGTH_MAX > text.length) {
        buffer.writeBytes(text, 0, length);
        length = 0;
      }
      length = PlainFrameWriter.write(frames.get(i), text, length);
    }
    buffer.writeBytes(text, 0, length);
  }

  /** Mostly every client has got the text before, and the same memory serves again, still warm. */
  private void makeRoom(int bytes) {
    if (buffer.refCnt() == 1) {
      buffer.clear();
      bufferNumber++;
    }
    if (buffer.writableBytes() < bytes) {
      renew(Math.max(BYTES, bytes));
    }
  }

  /** What was written lives on until the last client has got it. */
  private void renew(int bytes) {
    buffer.release();
    buffer = ByteBufAllocator.DEFAULT.directBuffer(bytes, bytes);
    bufferNumber++;
  }

  /** Where the text of the batch written latest ends. */
  int end() {
    return buffer.writerIndex();
  }

  /** Another one for each buffer. */
  int bufferNumber() {
    return bufferNumber;
  }

  /** The buffer with the text of the batch written latest; a new one comes when it is full. */
  ByteBuf buffer() {
    return buffer;
  }
}
