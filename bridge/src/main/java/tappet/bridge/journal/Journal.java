package tappet.bridge.journal;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.OptionalInt;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import tappet.bridge.record.Item;
import tappet.bridge.record.Scribe;
import tappet.bridge.record.Trouble;
import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/**
 * Keeps all that goes on in the box for people to look up, and for another box to live through.
 * Nothing is asked of the file before the box runs: it is opened by the journal's own thread.
 *
 * <p>What happened is in the operating system's hands within a second, and on the disk at the
 * latest when the write-ahead log is full. A power cut may take the last of it, never what stands
 * before.
 */
public final class Journal extends Scribe<Line> {

  private static final long US_PER_SECOND = 1_000_000;
  private static final long NS_PER_US = 1_000;

  private final Clocks clocks;

  /**
   * What the times in the journal are taken from, besides the box's own.
   *
   * @param wallUs the time of day, in microseconds since 1970
   * @param layoutMinute the minute of the layout's day, asked on the box's thread
   */
  public record Clocks(LongSupplier wallUs, Supplier<OptionalInt> layoutMinute) {

    /** With the clock of this machine. */
    public static Clocks usual(Supplier<OptionalInt> layoutMinute) {
      return new Clocks(Clocks::nowUs, layoutMinute);
    }

    private static long nowUs() {
      Instant now = Instant.now();
      return now.getEpochSecond() * US_PER_SECOND + now.getNano() / NS_PER_US;
    }
  }

  /**
   * What a session begins with.
   *
   * @param start what the box knows
   */
  public record Beginning(Item.Started start, OwnerFile layout, OwnerFile rules) {}

  private Journal(
      JournalBook book, Item.Started begin, Clocks clocks, Trouble trouble, Duration retry) {
    super(book, begin, trouble, retry);
    this.clocks = clocks;
  }

  /**
   * Keeps what happens to the box that it listens to, from its start on.
   *
   * @param file is made if it is not there; one that is damaged is put aside
   * @param trouble is told, on a thread of the journal's own, when nothing can be written, and of a
   *     file that was put aside
   */
  public static Journal open(
      Path file, Beginning beginning, Limits limits, Clocks clocks, Trouble trouble) {
    return open(file, beginning, limits, clocks, trouble, USUAL_RETRY);
  }

  static Journal open(
      Path file,
      Beginning beginning,
      Limits limits,
      Clocks clocks,
      Trouble trouble,
      Duration retry) {
    JournalBook book = new JournalBook(file, beginning, limits, trouble);
    Journal journal = new Journal(book, beginning.start(), clocks, trouble, retry);
    journal.begin();
    return journal;
  }

  @Override
  protected Line entry(long sinceStartUs, Item item) {
    return line(sinceStartUs, new Kept.Taken(item));
  }

  @Override
  protected long missing(Line line) {
    return line.what() instanceof Kept.Taken taken && taken.item() instanceof Item.Missing missing
        ? missing.count()
        : 0;
  }

  private Line line(long boxUs, Kept what) {
    return new Line(
        boxUs,
        clocks.wallUs().getAsLong(),
        clocks.layoutMinute().get().orElse(Line.NO_MINUTE),
        what);
  }

  private void keep(Kept what) {
    put(line(latestUs(), what));
  }

  @Override
  public void frameHeard(String from, CanFrame frame, long nowNs) {
    advanceTo(nowNs);
    keep(new Kept.Heard(from, new Item.Heard(frame)));
  }

  @Override
  public void stepped(Step step) {
    step.outputs().forEach(output -> keep(new Kept.Ordered(output)));
  }

  @Override
  public void changed(String what) {
    keep(new Kept.Changed(what));
  }

  @Override
  public void alarmRaised(String what) {
    keep(new Kept.Alarm(what, true));
  }

  @Override
  public void alarmCleared(String what) {
    keep(new Kept.Alarm(what, false));
  }

  /** Other files of the owner have taken over; on the box's thread. */
  public void runsBy(OwnerFile layout, OwnerFile rules) {
    keep(new Kept.RunsBy(layout, rules));
  }

  /**
   * Somebody has written something on the chart, or told a simulated train something; on the box's
   * thread.
   *
   * @param seen whether an alarm was acknowledged
   */
  public void written(String who, String sentence, boolean seen, boolean done, String words) {
    keep(new Kept.Written(who, sentence, seen, done, words));
  }
}
