package tappet.bridge.record;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import tappet.lcc.CanFrame;

/** What a scribe counts where both its queue and its book fail; common practice, no source. */
class ScribeTest {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int OVERFLOW = 100;
  private static final CanFrame FRAME = CanFrame.empty(0x195B4573);

  private final CountDownLatch reached = new CountDownLatch(1);
  private final CountDownLatch opened = new CountDownLatch(1);
  private volatile boolean full = true;
  private final AtomicLong written = new AtomicLong();
  private final AtomicLong missing = new AtomicLong();
  private long told;

  /** Counts what it takes; the first that comes waits until the book is opened. */
  private final class CountingBook implements Book<Item> {

    @Override
    public String name() {
      return "the book";
    }

    @Override
    public void append(List<Item> items, long missingBefore) throws IOException {
      reached.countDown();
      try {
        opened.await();
      } catch (InterruptedException e) {
        throw new IOException(e);
      }
      if (full) {
        throw new IOException("it is full");
      }
      written.addAndGet(items.size());
      missing.addAndGet(missingBefore);
    }

    @Override
    public void close() {}
  }

  private final class ItemScribe extends Scribe<Item> {

    ItemScribe() {
      super(new CountingBook(), SessionRecorderTest.BEGIN, what -> {}, Duration.ZERO);
      begin();
    }

    @Override
    protected Item entry(long sinceStartUs, Item item) {
      return item;
    }

    @Override
    protected long missing(Item item) {
      return item instanceof Item.Missing gone ? gone.count() : 0;
    }

    private void tell() {
      frameSent(FRAME, 0);
      told++;
    }
  }

  @Test
  void whatOverflowedIsMissingEvenWhereTheNoteOfItIsLostToo() throws Exception {
    try (ItemScribe scribe = new ItemScribe()) {
      scribe.tell();
      reached.await();
      while (scribe.lost() < OVERFLOW) {
        scribe.tell();
      }
      opened.countDown();
      await().atMost(PATIENCE).until(() -> scribe.lost() == told);
      scribe.tell();
      await().atMost(PATIENCE).until(() -> scribe.lost() >= told);
      full = false;
      scribe.tell();
      assertEquals(told - 1, scribe.lost());
    }
    assertEquals(1, written.get());
    assertEquals(told - 1, missing.get());
  }
}
