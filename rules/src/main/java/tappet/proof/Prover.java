package tappet.proof;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Proves the properties of a watched network, or finds stories in which they are broken.
 *
 * <p>A property is proven by induction: it holds wherever the lemmas do, or where it and the lemmas
 * have held for some ticks. What cannot be proven so is looked for in stories, the shortest first.
 * One that has neither proof nor story is unproven, which is an answer of its own.
 */
final class Prover {

  /** Lemmas are tried against the states of so many days before the solver is asked. */
  private static final int DAYS = 200;

  /** As many are enough where lemmas are remembered and none need be learnt. */
  private static final int DAYS_AGAIN = 40;

  /** More ticks to look back have not been seen to help. */
  private static final int INDUCTION_MAX = 2;

  /** A story of more ticks is not looked for. */
  private static final int STORY_MAX = 24;

  /** How far a story goes to make something come true that need not. */
  private static final int REACH_MAX = 16;

  private final Watched watched;
  private final ProofMemory memory;
  private final Proof.Progress progress;
  private final Stepper laidOut;
  private final Meanings meanings;
  private final Dependencies dependencies;
  private int daysSeen;
  private SeenStates seen;
  private List<Lemma> lemmas;
  private LemmaIndex index;
  private StorySearch stories;

  Prover(Watched watched, ProofMemory memory, Proof.Progress progress) {
    this.watched = watched;
    this.memory = memory;
    this.progress = progress;
    this.laidOut = new Stepper(watched.network());
    this.meanings = new Meanings(watched.network());
    this.dependencies = new Dependencies(watched.network());
    see(memory.isEmpty() ? DAYS : DAYS_AGAIN);
    progress.is("lemmas", 0, 1);
    stand(Induction.sift(watched.network(), meanings, memory, List.of(), remembered()));
  }

  /** What is found of each property, in their order. */
  List<Finding> findings() {
    Map<Property, Verdict> verdicts = verdicts();
    memory.keep(lemmas);
    return watched.properties().parallelStream()
        .map(
            property ->
                new Finding(
                    property, verdicts.get(property), reach(property.premise()) == Reach.CAN))
        .toList();
  }

  /** Everything that was found to hold always and holds the rest up. */
  List<Lemma> lemmas() {
    return lemmas;
  }

  /** Whether a variable can ever be true. */
  Reach reach(Variable variable) {
    if (seen.everTrue(variable)) {
      return Reach.CAN;
    }
    if (follows(variable, false, 0)) {
      return Reach.NEVER;
    }
    return stories.reaches(variable, true, REACH_MAX) ? Reach.CAN : Reach.NOT_FOUND;
  }

  /**
   * What is remembered is most often enough; where it is not, lemmas about what has changed are;
   * and only where these are not, everything is looked at again.
   */
  private Map<Property, Verdict> verdicts() {
    Map<Property, Verdict> verdicts = new ConcurrentHashMap<>();
    Set<Variable> changed = changed();
    if (!memory.isEmpty()) {
      prove(watched.properties(), verdicts);
      learnWhereOpen(changed::contains, verdicts);
    }
    learnWhereOpen(any -> true, verdicts);
    stories = new StorySearch(watched, laidOut, index);
    tellStories(open(verdicts), verdicts);
    return verdicts;
  }

  private void learnWhereOpen(Predicate<Variable> latches, Map<Property, Verdict> verdicts) {
    List<Property> open = open(verdicts);
    if (!open.isEmpty()) {
      learnAbout(latches);
      prove(open, verdicts);
    }
  }

  private List<Property> open(Map<Property, Verdict> verdicts) {
    return watched.properties().stream()
        .filter(property -> !verdicts.containsKey(property))
        .toList();
  }

  /** The lemmas of the last time; any may have fallen by what was edited since. */
  private List<Lemma> remembered() {
    Network network = watched.network();
    return memory.lemmasBefore().stream()
        .flatMap(written -> Lemma.read(written, network).stream())
        .filter(lemma -> lemma.holdsAtStart(network))
        .toList();
  }

  private void see(int days) {
    if (daysSeen < days) {
      progress.is("states", 0, 1);
      daysSeen = days;
      seen = new SeenStates(watched, laidOut, days);
    }
  }

  private void learnAbout(Predicate<Variable> latches) {
    see(DAYS);
    List<Lemma> candidates = Candidates.of(watched, seen, dependencies, latches);
    stand(Induction.sift(watched.network(), meanings, memory, lemmas, candidates));
    watched.network().variables().forEach(variable -> memory.note(meanings.of(List.of(variable))));
  }

  private void stand(List<Lemma> standing) {
    lemmas = standing;
    index = new LemmaIndex(standing);
  }

  /** What does not say what it said when lemmas were learnt, and the latches that read it. */
  private Set<Variable> changed() {
    Set<Variable> changed = new HashSet<>();
    for (Variable variable : watched.network().variables()) {
      if (!memory.knows(meanings.of(List.of(variable)))) {
        changed.add(variable);
        changed.addAll(dependencies.readersOf(variable));
      }
    }
    return changed;
  }

  private void prove(List<Property> open, Map<Property, Verdict> verdicts) {
    AtomicInteger done = new AtomicInteger();
    open.parallelStream()
        .forEach(
            property -> {
              proven(property).ifPresent(verdict -> verdicts.put(property, verdict));
              progress.is("properties", done.incrementAndGet(), open.size());
            });
  }

  private Optional<Verdict> proven(Property property) {
    return IntStream.rangeClosed(0, INDUCTION_MAX)
        .filter(ticks -> follows(property.holds(), true, ticks))
        .<Verdict>mapToObj(Verdict.Proven::new)
        .findFirst();
  }

  /** Properties of one kind are most often broken by one cause, and in stories about as long. */
  private void tellStories(List<Property> open, Map<Property, Verdict> verdicts) {
    Map<Property.Kind, List<Property>> byKind =
        open.stream().collect(Collectors.groupingBy(Property::kind));
    AtomicInteger done = new AtomicInteger();
    byKind.values().parallelStream()
        .forEach(
            ofKind -> {
              progress.is("stories", done.getAndIncrement(), byKind.size());
              verdicts.putAll(told(ofKind));
            });
  }

  private Map<Property, Verdict> told(List<Property> open) {
    StorySearch.Found found =
        stories.reaching(open.stream().map(Property::holds).toList(), false, STORY_MAX);
    Map<Property, Verdict> verdicts = new HashMap<>();
    for (Property property : open) {
      Story story = found.stories().get(property.holds());
      verdicts.put(
          property,
          story == null ? new Verdict.Unproven(found.ticks()) : new Verdict.Disproven(story));
    }
    return verdicts;
  }

  /**
   * Whether a variable has a value in the tick after so many in which it had it, wherever the
   * network comes from; and in those first ticks from the start.
   */
  private boolean follows(Variable variable, boolean value, int ticks) {
    Fingerprint fingerprint = fingerprint(variable, value, ticks);
    if (memory.knows(fingerprint)) {
      return true;
    }
    boolean follows =
        isImpossible(variable, !value, ticks, Unrolling.From.ANYWHERE)
            && holdsFromStart(variable, value, ticks);
    if (follows) {
      memory.note(fingerprint);
    }
    return follows;
  }

  private Fingerprint fingerprint(Variable variable, boolean value, int ticks) {
    Set<Variable> about = meanings.behind(List.of(variable), ticks);
    String question = "after " + ticks + " ticks " + value + ": " + variable;
    return Fingerprint.of(question)
        .plus(meanings.of(about))
        .plus(meanings.ofLemmas(index.within(about)));
  }

  private boolean holdsFromStart(Variable variable, boolean value, int ticks) {
    return IntStream.range(0, ticks)
        .allMatch(tick -> isImpossible(variable, !value, tick, Unrolling.From.START));
  }

  /** That a variable has a value for the first time after so many ticks. */
  private boolean isImpossible(Variable variable, boolean value, int ticks, Unrolling.From from) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(watched.network(), solver, from);
    InductionStep.demand(variable, value, ticks, index, unrolling, solver);
    return solver.search() == Solver.Outcome.IMPOSSIBLE;
  }
}
