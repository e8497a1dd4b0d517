package tappet.bridge;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.record.Scribe;
import tappet.bridge.web.Reply;
import tappet.interlocking.Answer;
import tappet.sentence.Command;

/**
 * All that is written down of what people say. On the box's thread, but for the search.
 *
 * @param scribes the journal, and a recorder if there is one
 */
record Ledgers(List<Scribe<?>> scribes, Journal journal, JournalSearch search) {

  Ledgers {
    scribes = List.copyOf(scribes);
  }

  /**
   * Somebody is about to ask the box for something.
   *
   * @return is to be told the answer
   */
  Consumer<Answer> told(String who, String sentence, long nowNs) {
    List<Consumer<Answer>> answered = new ArrayList<>(scribes.size());
    for (Scribe<?> scribe : scribes) {
      long number = scribe.told(who, Daemon.wallClock(), sentence, nowNs);
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
}
