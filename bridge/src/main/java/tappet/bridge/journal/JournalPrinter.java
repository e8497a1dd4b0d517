package tappet.bridge.journal;

import java.io.Closeable;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * Prints what somebody asks of a journal. What cannot be printed is said, and answered by false.
 */
public final class JournalPrinter implements Closeable {

  private final JournalReader reader;
  private final Telling telling;
  private final PrintStream out;
  private final PrintStream err;

  /**
   * Where it goes.
   *
   * @param err takes remarks, so that they do not get into what is printed
   */
  public record Paper(PrintStream out, PrintStream err) {}

  private JournalPrinter(JournalReader reader, Telling telling, Paper paper) {
    this.reader = reader;
    this.telling = telling;
    this.out = paper.out();
    this.err = paper.err();
  }

  /**
   * Opens a journal to print from.
   *
   * @param zone where the railroad stands
   * @throws IOException if the journal cannot be read, in an owner's words
   */
  public static JournalPrinter open(Path file, ZoneId zone, Paper paper) throws IOException {
    return new JournalPrinter(JournalReader.open(file), new Telling(zone), paper);
  }

  /** For people. */
  public boolean lines(Query query) throws IOException {
    return print(query, telling::line);
  }

  /** As comma-separated values (RFC 4180), with names in the first line. */
  public boolean csv(Query query) throws IOException {
    out.print(Telling.CSV_HEAD + "\r\n");
    return print(query, found -> telling.csv(found) + "\r");
  }

  /** As JSON, an object a line. */
  public boolean jsonLines(Query query) throws IOException {
    return print(query, Telling::json);
  }

  private boolean print(Query query, Function<Found, String> words) throws IOException {
    if (!isKnown(query)) {
      return false;
    }
    if (query.limit() == Query.NO_LIMIT) {
      reader.find(query, found -> out.print(words.apply(found) + "\n"));
    } else {
      Deque<Found> last = new ArrayDeque<>();
      reader.find(query.latestFirst(true), last::addFirst);
      last.forEach(found -> out.print(words.apply(found) + "\n"));
    }
    return true;
  }

  /** The sessions, with what they ran by. */
  public boolean sessions() throws IOException {
    for (PastSession session : reader.sessions()) {
      String ended =
          session.endedUs().isPresent()
              ? "to " + telling.time(session.endedUs().getAsLong())
              : "without an end";
      out.printf(
          "%3d  %s  %-26s  %s %s, %s %s%s%n",
          session.number(),
          telling.time(session.beganUs()),
          ended,
          session.layout().name(),
          session.layout().digest().substring(0, 12),
          session.rules().name(),
          session.rules().digest().substring(0, 12),
          session.whole() ? "" : "; some of it is gone");
    }
    return true;
  }

  /** As a recording, which {@code tappet replay} and CAN tools read. */
  public boolean frames(Query query) throws IOException {
    if (!isKnown(query)) {
      return false;
    }
    for (PastSession session : reader.sessions()) {
      if (query.session().isEmpty() || query.session().getAsInt() == session.number()) {
        frames(session, query);
      }
    }
    return true;
  }

  private void frames(PastSession session, Query query) throws IOException {
    if (!session.whole()) {
      err.printf(
          "note: the beginning of session %d is gone: its frames can be played, but the box cannot"
              + " live through it%n",
          session.number());
    }
    SessionText.tell(reader, session, query, line -> out.print(line + "\n"));
  }

  /** Writes layout and rules of a session into a folder. */
  public boolean files(Query query, Path folder) throws IOException {
    Optional<PastSession> session =
        reader.sessions().stream()
            .filter(
                each -> query.session().isPresent() && query.session().getAsInt() == each.number())
            .findFirst();
    if (session.isEmpty()) {
      err.println("say of which session: --session and a number of --sessions");
      return false;
    }
    Files.createDirectories(folder);
    for (OwnerFile file : List.of(session.get().layout(), session.get().rules())) {
      Path written = folder.resolve(Path.of(file.name()).getFileName());
      Files.writeString(written, file.text());
      out.println(written);
    }
    return true;
  }

  private boolean isKnown(Query query) throws IOException {
    if (query.session().isEmpty()) {
      return true;
    }
    List<Integer> known = reader.sessions().stream().map(PastSession::number).toList();
    boolean isKnown = known.contains(query.session().getAsInt());
    if (!isKnown) {
      err.printf(
          "there is no session %d in it; %s%n",
          query.session().getAsInt(),
          known.isEmpty()
              ? "there is none at all"
              : "there are %d to %d".formatted(known.get(0), known.get(known.size() - 1)));
    }
    return isKnown;
  }

  @Override
  public void close() throws IOException {
    out.flush();
    reader.close();
  }
}
