package tappet.bridge.record;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import tappet.lcc.CanFrame;

/**
 * Writes down all that the box takes in and sends, so that another box can live through it.
 *
 * <p>What was heard is in the operating system's hands within a second; on the disk when the system
 * sees fit, which spares memory cards. Each line is whole, whatever happened.
 */
public final class SessionRecorder extends Scribe<Entry> {

  private static final long US_PER_SECOND = 1_000_000;
  private static final long NS_PER_US = 1_000;

  // Of the box's thread.
  private long beganUs;
  private String origin = "";

  private SessionRecorder(Book<Entry> book, Item.Started begin, Trouble trouble, Duration retry) {
    super(book, begin, trouble, retry);
  }

  /**
   * Records the box that it listens to from its start on; goes on at the end of a file that is
   * there already.
   *
   * @param bus the name of the bus in the log, such as {@code can0}: 1 to 15 letters, digits, dots,
   *     dashes or underscores
   * @param begin what the box knows when it starts
   * @throws IOException if the file cannot be opened for writing
   */
  public static SessionRecorder open(Path path, String bus, Item.Started begin, Trouble trouble)
      throws IOException {
    return open(path, bus, begin, trouble, USUAL_RETRY);
  }

  static SessionRecorder open(
      Path path, String bus, Item.Started begin, Trouble trouble, Duration retry)
      throws IOException {
    if (!FrameLogText.isBusName(bus)) {
      throw new IllegalArgumentException("bus name '" + bus + "', expected one such as 'can0'");
    }
    SessionRecorder recorder =
        new SessionRecorder(new LogBook(FrameLogFile.open(path), bus), begin, trouble, retry);
    recorder.begin();
    return recorder;
  }

  @Override
  public void started(long nowNs) {
    Instant now = Instant.now();
    beganUs = now.getEpochSecond() * US_PER_SECOND + now.getNano() / NS_PER_US;
    super.started(nowNs);
  }

  @Override
  public void frameHeard(String from, CanFrame frame, long nowNs) {
    if (!from.equals(origin)) {
      origin = from;
      note(new Item.From(from), nowNs);
    }
    super.frameHeard(from, frame, nowNs);
  }

  @Override
  protected Entry entry(long sinceStartUs, Item item) {
    return new Entry(Math.max(0, beganUs + sinceStartUs), item, 0);
  }

  @Override
  protected long missing(Entry entry) {
    return entry.item() instanceof Item.Missing missing ? missing.count() : 0;
  }

  /** A log of CAN tools as a book. */
  private record LogBook(FrameLogFile file, String bus) implements Book<Entry> {

    @Override
    public String name() {
      return "recording " + file.path();
    }

    @Override
    public void append(List<Entry> entries, long missing) throws IOException {
      List<String> lines = new ArrayList<>(entries.size());
      if (missing > 0) {
        Entry said = new Entry(entries.get(0).timeUs(), new Item.Missing(missing), 0);
        lines.addAll(EntryText.lines(said, bus));
      }
      entries.forEach(entry -> lines.addAll(EntryText.lines(entry, bus)));
      file.append(lines);
    }

    @Override
    public void close() throws IOException {
      file.close();
    }
  }
}
