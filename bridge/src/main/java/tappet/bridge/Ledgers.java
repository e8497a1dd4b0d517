package tappet.bridge;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.journal.OwnerFile;
import tappet.bridge.record.Item;
import tappet.bridge.record.Scribe;
import tappet.bridge.record.SessionRecorder;
import tappet.bridge.web.Reply;
import tappet.interlocking.Answer;
import tappet.sentence.Command;

/**
 * All that is written down: the journal always, and a recording where the owner wants one. On the
 * box's thread, but for the search.
 */
final class Ledgers implements Closeable {

  /** What the bus is called in recordings. */
  private static final String BUS_NAME = "can0";

  private final BoxThread thread;
  private final Journal journal;
  private final JournalSearch search;
  private final List<Scribe<?>> scribes = new ArrayList<>();

  /** Begins the journal. */
  Ledgers(Settings.JournalPlan plan, Journal.Beginning beginning, SignalBox box, BoxThread thread) {
    this.thread = thread;
    journal =
        Journal.open(
            plan.file(),
            beginning,
            plan.limits(),
            Journal.Clocks.usual(box::minuteOfDay),
            new BoxTrouble(thread, "the journal " + plan.file()));
    search = new JournalSearch(plan.file());
    scribes.add(journal);
  }

  /**
   * Begins a recording as well.
   *
   * @throws IOException if the file cannot be opened
   */
  void record(Path file, Item.Started start) throws IOException {
    BoxTrouble trouble = new BoxTrouble(thread, "recording " + file);
    scribes.add(SessionRecorder.open(file, BUS_NAME, start, trouble));
  }

  /** Has a box written down that is about to start. */
  void follow(SignalBox box) {
    scribes.forEach(box::tellToo);
  }

  /** Other files have taken over, and are kept as those of the start are. */
  void runsBy(OwnerFile layout, OwnerFile rules) {
    journal.runsBy(layout, rules);
  }

  JournalSearch search() {
    return search;
  }

  /**
   * Somebody is about to ask the box for something.
   *
   * @return is to be told the answer
   */
  Consumer<Answer> told(String who, String sentence, long nowNs) {
    List<Consumer<Answer>> answered = new ArrayList<>(scribes.size());
    for (Scribe<?> scribe : scribes) {
      long number = scribe.told(who, wallClock(), sentence, nowNs);
      answered.add(answer -> scribe.answered(number, answer));
    }
    return answer -> answered.forEach(each -> each.accept(answer));
  }

  /** Somebody has written on the chart, or told a simulated train something. */
  void written(Command command, String sentence, String who, Reply reply) {
    journal.written(
        who,
        sentence,
        command instanceof Command.Acknowledge,
        reply.kind() == Reply.Kind.DONE,
        reply.text().strip());
  }

  /** Date and time where the railroad stands, for people to read. */
  static Optional<LocalDateTime> wallClock() {
    return Optional.of(LocalDateTime.now(ZoneId.systemDefault()).truncatedTo(ChronoUnit.SECONDS));
  }

  @Override
  public void close() {
    scribes.forEach(Scribe::close);
    search.close();
  }
}
