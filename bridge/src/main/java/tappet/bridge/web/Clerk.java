package tappet.bridge.web;

import java.util.List;
import java.util.concurrent.CompletableFuture;

/** Who answers what the desk is asked; from any thread, without blocking. */
public interface Clerk {

  /** Carries a sentence out. */
  CompletableFuture<Reply> tell(String sentence);

  /** Says why something is as it is. */
  CompletableFuture<Reply> why(String name);

  /** The alarms that stand. */
  CompletableFuture<List<String>> alarms();
}
