package tappet.bridge.pages;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.view.Sight;
import tappet.bridge.web.Health;
import tappet.bridge.web.Reply;
import tappet.interlocking.Candidate;
import tappet.network.Explanation;
import tappet.sentence.Command;

/** Who does what the pages ask, and answers; from any thread, without blocking. */
public interface Office {

  /**
   * Carries a command out.
   *
   * @param sentence the command as it was said
   * @param who who said it
   */
  CompletableFuture<Reply> carryOut(Command command, String sentence, String who);

  /** Says why something is as it is; empty if there is nothing of that name. */
  CompletableFuture<Optional<Explanation>> whyIs(String name);

  /** A route that somebody might ask for; empty if none leads there. */
  CompletableFuture<Optional<Candidate>> way(String from, String to);

  /** Who speaks on the bus, and how the connections are, as a JSON object. */
  CompletableFuture<String> nodes();

  /** The events on the bus after one of a number, as a JSON object. */
  CompletableFuture<String> events(long after);

  /** The rule file with what the proof has found, as a JSON object. */
  CompletableFuture<String> rules();

  /** What stands in the journal; see {@link JournalSearch#ask}. */
  CompletableFuture<JournalSearch.Sheet> journal(Map<String, String> asked);

  /**
   * Has new files taken over, or calls that off.
   *
   * @param wish {@code try}, {@code apply}, {@code wait 60} or {@code cancel}
   */
  Reply reload(String wish);

  /** How the latest reload stands, as a JSON object. */
  String reload();

  /** How the daemon fares. */
  Health health();

  /** All that is seen now. */
  CompletableFuture<Sight> sight();
}
