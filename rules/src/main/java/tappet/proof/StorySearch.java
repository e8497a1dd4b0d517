package tappet.proof;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.proof.Story.Moment;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Looks for the shortest stories in which something comes to be so. A story counts only if the
 * network itself, run step by step, comes to it. Many threads may look at once.
 */
final class StorySearch {

  /** Beyond so much work nobody would wait for the next tick. */
  private static final int CONFLICTS_MAX = 100_000;

  /**
   * Where one story is found, most others have the same cause and are about as long: looking much
   * further costs minutes and tells an owner little.
   */
  private static final int TICKS_AFTER_FIRST = 3;

  /** So many orders of what happens in a tick are tried: as declared, the other way, by chance. */
  private static final int ORDERS = 12;

  private final Watched watched;
  private final Stepper laidOut;
  private final LemmaIndex index;
  private final Map<Beginning, Stepper> begun = new EnumMap<>(Beginning.class);

  /**
   * @param lemmas what is known to hold always: it keeps the search short
   */
  StorySearch(Watched watched, List<Lemma> lemmas) {
    this(watched, new Stepper(watched.network()), new LemmaIndex(lemmas));
  }

  /**
   * @param laidOut any run of the watched network
   * @param lemmas what is known to hold always: it keeps the search short
   */
  StorySearch(Watched watched, Stepper laidOut, LemmaIndex lemmas) {
    this.watched = watched;
    this.laidOut = laidOut;
    this.index = lemmas;
    for (Beginning beginning : Beginning.values()) {
      begun.put(beginning, begin(beginning));
    }
  }

  /**
   * What the search has come to.
   *
   * @param stories the stories found, by what comes to be so in them
   * @param ticks how many ticks of every other story were looked at
   */
  record Found(Map<Variable, Story> stories, int ticks) {}

  /**
   * Whether there is a story of at most so many ticks in which a variable comes to have a value.
   */
  boolean reaches(Variable variable, boolean value, int ticksMax) {
    return !found(List.of(variable), value, ticksMax).stories().isEmpty();
  }

  /** A shortest story of at most so many ticks in which a variable comes to have a value. */
  Optional<Story> reaching(Variable variable, boolean value, int ticksMax) {
    Found found = reaching(List.of(variable), value, ticksMax);
    return Optional.ofNullable(found.stories().get(variable));
  }

  /**
   * Shortest stories of at most so many ticks in which variables come to have a value, and of
   * hardly more than the first one that is found: from a railroad at rest, or else from one that
   * has just been started.
   */
  Found reaching(Collection<Variable> variables, boolean value, int ticksMax) {
    Found found = found(variables, value, ticksMax);
    found
        .stories()
        .replaceAll(
            (variable, whole) -> thinned(whole.beginning(), whole.moments(), variable, value));
    return found;
  }

  private Found found(Collection<Variable> variables, boolean value, int ticksMax) {
    Map<Variable, Story> stories = new LinkedHashMap<>();
    Set<Variable> open = new LinkedHashSet<>(variables);
    List<From> beginnings = Stream.of(Beginning.values()).map(From::new).toList();
    int last = ticksMax;
    for (int tick = 0; tick <= last && !open.isEmpty(); tick++) {
      for (From beginning : beginnings) {
        if (!beginning.look(open, value, tick, stories)) {
          return new Found(stories, tick - 1);
        }
      }
      last = stories.isEmpty() ? ticksMax : Math.min(last, tick + TICKS_AFTER_FIRST);
    }
    return new Found(stories, last);
  }

  /** The search from one beginning. */
  private final class From {

    private final Beginning beginning;
    private final Stepper first;
    private final Solver solver = new Solver(CONFLICTS_MAX);
    private final Unrolling unrolling;

    From(Beginning beginning) {
      this.beginning = beginning;
      this.first = begun.get(beginning);
      this.unrolling = new Unrolling(watched.network(), solver, first::value);
    }

    /**
     * Looks for stories of so many ticks, and takes what is found from what is open.
     *
     * @return false where the search was given up
     */
    boolean look(Set<Variable> open, boolean value, int tick, Map<Variable, Story> stories) {
      Set<Variable> possible = new LinkedHashSet<>(open);
      while (!possible.isEmpty()) {
        Solver.Outcome outcome = solver.search(oneOf(possible, value, tick));
        if (outcome != Solver.Outcome.SATISFIED) {
          return outcome == Solver.Outcome.IMPOSSIBLE;
        }
        tell(tick, open, value, stories);
        possible.removeIf(variable -> solverHas(variable, value, tick));
        possible.retainAll(open);
      }
      return true;
    }

    /**
     * What happens in one tick of the solver comes one after the other on a railroad, in an order
     * that the solver does not tell: the first order in which something is reached is told.
     */
    private void tell(int tick, Set<Variable> open, boolean value, Map<Variable, Story> stories) {
      for (int order = 0; order < ORDERS; order++) {
        List<Moment> moments = moments(tick, order);
        Set<Variable> reached = reached(beginning, moments, open, value);
        for (Variable variable : reached) {
          stories.put(variable, new Story(beginning, moments));
        }
        open.removeAll(reached);
        if (!reached.isEmpty()) {
          return;
        }
      }
    }

    /** A literal under which one of some variables has the value in a tick. */
    private int oneOf(Set<Variable> variables, boolean value, int tick) {
      int[] any =
          variables.stream()
              .mapToInt(variable -> unrolling.literal(variable, tick) * (value ? 1 : -1))
              .toArray();
      index.demand(unrolling, solver, tick);
      return unrolling.either(any);
    }

    private boolean solverHas(Variable variable, boolean value, int tick) {
      return solver.value(unrolling.literal(variable, tick)) == value;
    }

    private List<Moment> moments(int last, int order) {
      SplittableRandom chance = new SplittableRandom(order);
      List<Moment> moments = new ArrayList<>();
      for (int tick = 0; tick <= last; tick++) {
        List<Moment> together = momentsOf(tick);
        if (order == 1) {
          Collections.reverse(together);
        } else if (order > 1) {
          shuffle(together, chance);
        }
        moments.addAll(together);
      }
      return moments;
    }

    private static void shuffle(List<Moment> moments, SplittableRandom chance) {
      for (int place = moments.size() - 1; place > 0; place--) {
        Collections.swap(moments, place, chance.nextInt(place + 1));
      }
    }

    /** What happens in a tick, each thing by itself: reports before requests. */
    private List<Moment> momentsOf(int tick) {
      List<Moment> moments = new ArrayList<>();
      Set<Variable> pulses = new LinkedHashSet<>();
      for (Variable variable : watched.network().variables()) {
        if (!unrolling.isWritten(variable, tick)) {
          continue;
        }
        boolean value = solverHas(variable, true, tick);
        if (variable.kind() == Variable.Kind.PULSE && value) {
          pulses.add(variable);
        } else if (isInput(variable) && tick > 0 && solverHas(variable, !value, tick - 1)) {
          moments.add(new Moment(List.of(variable), List.of(value), Set.of()));
        }
      }
      if (!pulses.isEmpty()) {
        moments.add(new Moment(List.of(), List.of(), pulses));
      }
      return moments;
    }

    private static boolean isInput(Variable variable) {
      return variable.kind() == Variable.Kind.INPUT;
    }
  }

  /**
   * A story without every moment without which the end is the same. One may be needed only for
   * another that is not, so all are tried until none can be left out.
   */
  Story thinned(Beginning beginning, List<Moment> moments, Variable variable, boolean value) {
    List<Moment> needed = moments;
    List<Moment> before;
    do {
      before = needed;
      needed = triedWithoutEach(beginning, before, variable, value);
    } while (needed.size() < before.size());
    return new Story(beginning, needed);
  }

  private List<Moment> triedWithoutEach(
      Beginning beginning, List<Moment> moments, Variable variable, boolean value) {
    List<Moment> needed = new ArrayList<>(moments);
    for (int index = needed.size() - 1; index >= 0; index--) {
      List<Moment> fewer = new ArrayList<>(needed);
      fewer.remove(index);
      if (reaches(beginning, fewer, variable, value)) {
        needed = fewer;
      }
    }
    return needed;
  }

  /** Whether a variable has a value in any tick, when the network itself is run through it all. */
  boolean reaches(Beginning beginning, List<Moment> moments, Variable variable, boolean value) {
    return !reached(beginning, moments, List.of(variable), value).isEmpty();
  }

  private Set<Variable> reached(
      Beginning beginning, List<Moment> moments, Collection<Variable> wanted, boolean value) {
    Stepper stepper = begin(beginning);
    Set<Variable> reached = new LinkedHashSet<>();
    wanted.stream().filter(one -> stepper.value(one) == value).forEach(reached::add);
    for (Moment moment : moments) {
      for (int index = 0; index < moment.reports().size(); index++) {
        stepper.set(moment.reports().get(index), moment.values().get(index));
      }
      moment.pulses().stream().filter(pulse -> mayCome(pulse, stepper)).forEach(stepper::pulse);
      stepper.step(
          (changed, now) -> {
            if (now == value && wanted.contains(changed)) {
              reached.add(changed);
            }
          });
    }
    return reached;
  }

  private Stepper begin(Beginning beginning) {
    return beginning.of(watched.happenings().again(), laidOut.again());
  }

  /** A time runs out only while it is asked for. */
  private static boolean mayCome(Variable pulse, Stepper stepper) {
    return stepper.network().timerEndedBy(pulse).stream()
        .allMatch(timer -> timer.isRunning(stepper));
  }
}
