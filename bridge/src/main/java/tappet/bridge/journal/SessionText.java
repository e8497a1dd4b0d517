package tappet.bridge.journal;

import java.io.IOException;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.EnumSet;
import java.util.HexFormat;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;
import tappet.bridge.record.Entry;
import tappet.bridge.record.EntryText;
import tappet.bridge.record.Item;
import tappet.lcc.CanFrame;

/**
 * A session out of the journal, as the recording that a recorder would have made of it: CAN tools
 * read it, and another box lives through it.
 */
final class SessionText {

  private static final Set<Topic> TOPICS =
      EnumSet.of(Topic.FRAMES, Topic.ORDERS, Topic.CONNECTIONS, Topic.PROTECTIONS, Topic.DAEMON);
  private static final int HEADER_DIGITS = 8;
  private static final int HEX = 16;

  private final PastSession session;
  private final Consumer<String> taker;
  private String origin = "";

  private SessionText(PastSession session, Consumer<String> taker) {
    this.session = session;
    this.taker = taker;
  }

  /**
   * Tells the lines of a session.
   *
   * @param query what of it, by time; its topics are set here
   * @param taker takes each line, without its end
   */
  static void tell(JournalReader reader, PastSession session, Query query, Consumer<String> taker)
      throws IOException {
    SessionText text = new SessionText(session, taker);
    reader.find(
        new Query(
            query.sinceUs(),
            query.untilUs(),
            TOPICS,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            OptionalInt.of(session.number()),
            query.before(),
            Query.NO_LIMIT,
            false),
        text::tell);
  }

  private void tell(Found found) {
    Row row = found.row();
    switch (row.kind()) {
      case STARTED -> tellStart();
      case HEARD -> tellHeard(found);
      case SENT -> tell(found, new Item.Sent(frame(row.text())));
      case TOLD ->
          tell(found, new Item.Told(row.number(), row.who(), local(row.local()), row.text()));
      case ANSWERED -> tell(found, new Item.Answered(row.number(), row.yes(), row.text()));
      case UP -> tell(found, row.up());
      case DOWN -> tell(found, new Item.Down(row.about(), row.text(), row.yes()));
      case KEPT, NOT_KEPT -> tell(found, new Item.Kept(Optional.ofNullable(row.text())));
      case MISSING -> tell(found, new Item.Missing(row.number()));
      case OVERRUN -> tell(found, new Item.InputLost());
      case EXCHANGED -> tell(found, new Item.Exchanged(row.text()));
      case ENDED -> tell(found, new Item.Ended());
      default -> {
        // what follows from all this is no part of a recording
      }
    }
  }

  /** Where its beginning is gone, so is what followed from it: it can only be played. */
  private void tellStart() {
    if (session.whole()) {
      taker.accept(session.start());
    }
  }

  private void tellHeard(Found found) {
    String connection = found.row().about();
    if (!connection.equals(origin)) {
      origin = connection;
      tell(found, new Item.From(connection));
    }
    tell(found, new Item.Heard(frame(found.row().text())));
  }

  private void tell(Found found, Item item) {
    long timeUs = session.beganUs() + found.clocks().boxUs();
    EntryText.lines(new Entry(timeUs, item, 0), Telling.BUS).forEach(taker);
  }

  private static CanFrame frame(String text) {
    int header = Integer.parseInt(text, 0, HEADER_DIGITS, HEX);
    String data = text.substring(HEADER_DIGITS + 1);
    long value = data.isEmpty() ? 0 : HexFormat.fromHexDigitsToLong(data);
    return CanFrame.of(header, data.length() / 2, value);
  }

  private static Optional<LocalDateTime> local(String text) {
    try {
      return Optional.ofNullable(text).map(LocalDateTime::parse);
    } catch (DateTimeException e) {
      return Optional.empty();
    }
  }
}
