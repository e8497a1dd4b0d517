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

/** An office that answers nothing: a test that is about one question answers that alone. */
public class NoOffice implements Office {

  @Override
  public CompletableFuture<Reply> carryOut(Command command, String sentence, String who) {
    throw new AssertionError(sentence);
  }

  @Override
  public CompletableFuture<Optional<Explanation>> whyIs(String name) {
    throw new AssertionError(name);
  }

  @Override
  public CompletableFuture<Optional<Candidate>> way(String from, String to) {
    throw new AssertionError(from);
  }

  @Override
  public CompletableFuture<String> nodes() {
    throw new AssertionError();
  }

  @Override
  public CompletableFuture<String> events(long after) {
    throw new AssertionError(after);
  }

  @Override
  public CompletableFuture<String> rules() {
    throw new AssertionError();
  }

  @Override
  public CompletableFuture<JournalSearch.Sheet> journal(Map<String, String> asked) {
    throw new AssertionError(asked);
  }

  @Override
  public Reply reload(String wish) {
    throw new AssertionError(wish);
  }

  @Override
  public String reload() {
    throw new AssertionError();
  }

  @Override
  public Health health() {
    throw new AssertionError();
  }

  @Override
  public CompletableFuture<Sight> sight() {
    throw new AssertionError();
  }
}
