package tappet.proof;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Proves the properties of a watched network, or finds stories in which they are broken.
 *
 * <p>A property is proven by induction: it holds wherever the lemmas do, or where it and the lemmas
 * have held for some ticks. What cannot be proven so is looked for in stories, the shortest first.
 * One that has neither proof nor story is unproven, which is an answer of its own.
 */
public final class Prover {

  /** Lemmas are tried against the states of so many days before the solver is asked. */
  private static final int DAYS = 200;

  /** More ticks to look back have not been seen to help. */
  private static final int INDUCTION_MAX = 2;

  /** A story of more ticks is not looked for. */
  private static final int STORY_MAX = 24;

  /** How far a story goes to make a premise come true. */
  private static final int PREMISE_MAX = 16;

  /** Hears how far the work has come. */
  @FunctionalInterface
  public interface Progress {
    /**
     * Some of the work is done.
     *
     * @param work what is being done
     * @param done how much of it, from 0
     * @param of how much there is of it, above 0
     */
    void is(String work, int done, int of);
  }

  private final Watched watched;
  private final SeenStates seen;
  private final List<Lemma> lemmas;
  private final LemmaIndex index;
  private final StorySearch stories;

  private Prover(Watched watched, Progress progress) {
    this.watched = watched;
    progress.is("states", 0, 1);
    this.seen = new SeenStates(watched, DAYS);
    progress.is("lemmas", 0, 1);
    this.lemmas = Induction.sift(watched.network(), Candidates.of(watched, seen));
    this.index = new LemmaIndex(lemmas);
    this.stories = new StorySearch(watched, lemmas);
  }

  /** What is found of each property, in their order. */
  public static List<Finding> prove(Watched watched, Progress progress) {
    Prover prover = new Prover(watched, progress);
    List<Property> properties = watched.properties();
    AtomicInteger done = new AtomicInteger();
    return properties.parallelStream()
        .map(
            property -> {
              Finding finding = prover.finding(property);
              progress.is("properties", done.incrementAndGet(), properties.size());
              return finding;
            })
        .toList();
  }

  private Finding finding(Property property) {
    return new Finding(property, verdict(property), isSaid(property));
  }

  private Verdict verdict(Property property) {
    for (int ticks = 0; ticks <= INDUCTION_MAX; ticks++) {
      if (follows(property, ticks)) {
        return new Verdict.Proven(ticks);
      }
    }
    return stories
        .reaching(property.holds(), false, STORY_MAX)
        .<Verdict>map(Verdict.Disproven::new)
        .orElse(new Verdict.Unproven(STORY_MAX));
  }

  /**
   * Whether a property holds in the tick after so many in which it did, wherever the network comes
   * from; and in those first ticks from the start.
   */
  private boolean follows(Property property, int ticks) {
    return isImpossible(property, ticks, Unrolling.From.ANYWHERE)
        && holdsFromStart(property, ticks);
  }

  private boolean holdsFromStart(Property property, int ticks) {
    for (int tick = 0; tick < ticks; tick++) {
      if (!isImpossible(property, tick, Unrolling.From.START)) {
        return false;
      }
    }
    return true;
  }

  private boolean isImpossible(Property property, int ticks, Unrolling.From from) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(watched.network(), solver, from);
    solver.demand(-unrolling.literal(property.holds(), ticks));
    for (int before = 0; before < ticks; before++) {
      solver.demand(unrolling.literal(property.holds(), before));
    }
    for (int tick = 0; tick <= ticks; tick++) {
      index.demand(unrolling, solver, tick);
    }
    return solver.search() == Solver.Outcome.IMPOSSIBLE;
  }

  private boolean isSaid(Property property) {
    return seen.everTrue(property.premise())
        || stories.reaching(property.premise(), true, PREMISE_MAX).isPresent();
  }
}
