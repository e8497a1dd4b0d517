package tappet.bridge.web;

import java.util.List;
import java.util.concurrent.CompletableFuture;

/** Who answers what the desk is asked; from any thread, without blocking. */
public interface Clerk {

  /** Carries a sentence out. */
  CompletableFuture<Reply> tell(String sentence);

  /** Says why something is as it is. */
  CompletableFuture<Reply> why(String name);

  /**
   * Has new files taken over, or calls that off.
   *
   * @param wish {@code try}, {@code apply}, {@code wait 60} or {@code cancel}
   */
  Reply reload(String wish);

  /** How the latest reload stands: a word in the first line, and what is to be told below. */
  String reloadText();

  /** The alarms that stand. */
  CompletableFuture<List<String>> alarms();
}
