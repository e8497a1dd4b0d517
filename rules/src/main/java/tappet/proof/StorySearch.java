package tappet.proof;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.proof.Story.Moment;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Looks for the shortest story in which something comes to be so, a story counts only if the
 * network itself, run step by step, comes to it.
 */
final class StorySearch {

  private final Watched watched;
  private final LemmaIndex index;

  /**
   * @param lemmas what is known to hold always: it keeps the search short
   */
  StorySearch(Watched watched, List<Lemma> lemmas) {
    this.watched = watched;
    this.index = new LemmaIndex(lemmas);
  }

  /**
   * A shortest story of at most so many ticks in which a variable comes to have a value: from a
   * railroad at rest, or else from one that has just been started.
   */
  Optional<Story> reaching(Variable variable, boolean value, int ticksMax) {
    return Stream.of(Beginning.values())
        .flatMap(beginning -> new From(beginning).reaching(variable, value, ticksMax).stream())
        .findFirst();
  }

  /** The search from one beginning. */
  private final class From {

    private final Beginning beginning;
    private final Stepper first;
    private final Solver solver = new Solver();
    private final Unrolling unrolling;

    From(Beginning beginning) {
      this.beginning = beginning;
      this.first = beginning.of(watched);
      this.unrolling = new Unrolling(watched.network(), solver, first::value);
    }

    Optional<Story> reaching(Variable variable, boolean value, int ticksMax) {
      for (int tick = 0; tick <= ticksMax; tick++) {
        int literal = unrolling.literal(variable, tick);
        index.demand(unrolling, solver, tick);
        if (solver.search(value ? literal : -literal) == Solver.Outcome.SATISFIED) {
          Optional<Story> story = told(tick, variable, value);
          if (story.isPresent()) {
            return story;
          }
        }
      }
      return Optional.empty();
    }

    private Optional<Story> told(int last, Variable variable, boolean value) {
      List<Moment> moments = new ArrayList<>();
      for (int tick = 0; tick <= last; tick++) {
        moments.addAll(moments(tick));
      }
      return reaches(beginning, moments, variable, value)
          ? Optional.of(new Story(beginning, withoutIdleMoments(moments, variable, value)))
          : Optional.empty();
    }

    /** What happens in a tick, each thing by itself: reports before requests. */
    private List<Moment> moments(int tick) {
      List<Moment> moments = new ArrayList<>();
      Set<Variable> pulses = new LinkedHashSet<>();
      for (Variable variable : watched.network().variables()) {
        if (!unrolling.isWritten(variable, tick)) {
          continue;
        }
        boolean value = solver.value(unrolling.literal(variable, tick));
        if (variable.kind() == Variable.Kind.PULSE && value) {
          pulses.add(variable);
        } else if (variable.kind() == Variable.Kind.INPUT && value != before(variable, tick)) {
          moments.add(new Moment(List.of(variable), List.of(value), Set.of()));
        }
      }
      if (!pulses.isEmpty()) {
        moments.add(new Moment(List.of(), List.of(), pulses));
      }
      return moments;
    }

    private boolean before(Variable input, int tick) {
      for (int earlier = tick - 1; earlier >= 0; earlier--) {
        if (unrolling.isWritten(input, earlier)) {
          return solver.value(unrolling.literal(input, earlier));
        }
      }
      return first.value(input);
    }

    /** Leaves out every moment without which the end is the same. */
    private List<Moment> withoutIdleMoments(
        List<Moment> moments, Variable variable, boolean value) {
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
  }

  /** Whether a variable has a value in any tick, when the network itself is run through it all. */
  boolean reaches(Beginning beginning, List<Moment> moments, Variable variable, boolean value) {
    Stepper stepper = beginning.of(watched);
    boolean[] reached = {stepper.value(variable) == value};
    for (Moment moment : moments) {
      for (int index = 0; index < moment.reports().size(); index++) {
        stepper.set(moment.reports().get(index), moment.values().get(index));
      }
      moment.pulses().stream().filter(pulse -> mayCome(pulse, stepper)).forEach(stepper::pulse);
      stepper.step((changed, now) -> reached[0] |= changed.equals(variable) && now == value);
    }
    return reached[0];
  }

  /** A time runs out only while it is asked for. */
  private static boolean mayCome(Variable pulse, Stepper stepper) {
    return stepper.network().timers().stream()
        .filter(timer -> timer.runsOut().equals(pulse))
        .allMatch(timer -> timer.isRunning(stepper));
  }
}
