package tappet.proof.published;

import java.time.Duration;
import tappet.proof.published.EventSearch.Extent;

/**
 * Counts every state of the published train system and holds the counts against those of its file:
 * for some of its routes, and then for all ten. {@code rules/bin/published-states} runs it.
 */
final class PublishedStates {

  /** So often it is told how far the search has come. */
  private static final int DEPTHS = 10;

  private PublishedStates() {}

  public static void main(String[] arguments) {
    boolean right = true;
    System.out.println(
        "routes | states | transitions | depth | seconds | as in the file, and safe");
    for (StateCount expected : StateCount.all()) {
      right &= isAsPublished(expected);
    }
    System.exit(right ? 0 : 1);
  }

  private static boolean isAsPublished(StateCount expected) {
    long beganNs = System.nanoTime();
    TrainSystem system = TrainSystem.with(expected.routes());
    EventSearch search = new EventSearch(system.watched(), system.happens());
    Extent found = search.search(expected.isSmall() ? each -> {} : PublishedStates::tell);
    boolean right = found.equals(expected.extent()) && search.broken().isEmpty();
    System.out.printf(
        "%s | %,d | %,d | %d | %.1f | %s%n",
        String.join(" ", expected.routes()),
        found.states(),
        found.transitions(),
        found.depth(),
        Duration.ofNanos(System.nanoTime() - beganNs).toMillis() / 1000.0,
        right ? "yes" : "no: " + expected.extent() + ", broken " + search.broken());
    return right;
  }

  private static void tell(Extent found) {
    if (found.depth() % DEPTHS == 0) {
      System.err.printf("after %d events: %,d states%n", found.depth(), found.states());
    }
  }
}
