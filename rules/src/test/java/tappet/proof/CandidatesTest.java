package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import tappet.network.Variable;

/** Few candidates are tried that a longer look at the railroad would have spared the solver. */
class CandidatesTest {

  /** Of what was left of pairs of protections a sixth of all candidates was made once. */
  private static final double SHARE_MAX = 0.02;

  @Test
  void peopleAreSeenAtWorkEverywhereAtOnce() {
    Watched demo = Railroads.config("demo");
    SeenStates seen = new SeenStates(demo, 200);
    Dependencies dependencies = new Dependencies(demo.network());

    List<Lemma> candidates = Candidates.of(demo, seen, dependencies, any -> true);

    long excluding = candidates.stream().filter(CandidatesTest::keepsProtectionsApart).count();
    assertTrue(excluding < SHARE_MAX * candidates.size(), excluding + " of " + candidates.size());
  }

  private static boolean keepsProtectionsApart(Lemma lemma) {
    return !lemma.oneValue()
        && !lemma.otherValue()
        && isProtection(lemma.one())
        && isProtection(lemma.other());
  }

  private static boolean isProtection(Variable latch) {
    return Stream.of("blocked", "flagged", "under permit")
        .anyMatch(how -> latch.name().endsWith(": " + how));
  }
}
