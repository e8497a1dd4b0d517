package tappet.bridge.pages;

import java.util.ArrayList;
import java.util.List;
import java.util.function.LongSupplier;
import tappet.bridge.box.BoxListener;
import tappet.bridge.view.ChartBook;
import tappet.bridge.view.News;
import tappet.interlocking.Step;

/** Hears what goes on in the box, and keeps it until the pages are told. */
public final class NewsStand implements BoxListener {

  /** More than anybody reads at once. */
  private static final int KEPT_MAX = 60;

  private final ChartBook book;
  private final LongSupplier wallClockMs;
  private final List<News> waiting = new ArrayList<>();
  private boolean touched = true;

  /**
   * @param book what people write on the chart; it follows the trains at each step
   */
  public NewsStand(ChartBook book, LongSupplier wallClockMs) {
    this.book = book;
    this.wallClockMs = wallClockMs;
  }

  @Override
  public void stepped(Step step) {
    book.settled();
    touch();
  }

  @Override
  public void changed(String what) {
    tell(what);
  }

  @Override
  public void alarmRaised(String what) {
    tell("ALARM: " + what);
  }

  @Override
  public void alarmCleared(String what) {
    tell("alarm gone: " + what);
  }

  private synchronized void tell(String text) {
    touched = true;
    if (waiting.size() < KEPT_MAX) {
      waiting.add(new News(wallClockMs.getAsLong(), text));
    }
  }

  /** Something may have changed. */
  public synchronized void touch() {
    touched = true;
  }

  /** Whether anything may have changed since this was asked last. */
  synchronized boolean takeTouched() {
    boolean was = touched;
    touched = false;
    return was;
  }

  synchronized List<News> take() {
    List<News> taken = List.copyOf(waiting);
    waiting.clear();
    return taken;
  }
}
