package tappet.network;

import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Looks for the fewest facts that answer one question about a network as it is now.
 *
 * <p>Each variable is looked at once, so that the work grows with the equations that bear on the
 * question and not with the number of ways through them. The price: each choice between parts is
 * made for itself. The facts found are the fewest where no two parts read the same fact. Where
 * parts share facts they are enough, but a longer alternative that needed little besides facts
 * named anyway may have been passed over. A fact that is wanted both true and false counts as two,
 * and nothing is promised of it.
 */
final class ShortestReasons {

  /** What may be asked of a value. */
  enum Question {
    /** Facts that are enough to make it so, whatever the others are. */
    WHAT_MAKES_IT_SO,
    /** Facts that are enough to change it, if all of them changed. */
    WHAT_KEEPS_IT_SO
  }

  /** Farther than any number of facts at hand. */
  private static final long FAR = 1L << 20;

  /** Farther than all that can be told: an alternative of which there is nothing to say. */
  private static final long UNTOLD = 1L << 40;

  /** A constant that would have to change. */
  private static final long NEVER = Long.MAX_VALUE;

  /**
   * Facts that answer the question for a part of an equation.
   *
   * @param told the same in words, nearest first
   * @param distance how far they are, from 0; the nearest of several alternatives is chosen
   */
  private record Reasons(Set<Variable> facts, Set<Explanation> told, long distance) {}

  private static final Reasons NO_ANSWER = new Reasons(Set.of(), Set.of(), NEVER);

  private final Question question;
  private final Stepper stepper;
  private final Explainer.Wording wording;
  private final Map<Variable, Reasons> found = new HashMap<>();
  private long partsLookedAt;

  ShortestReasons(Question question, Stepper stepper, Explainer.Wording wording) {
    this.question = question;
    this.stepper = stepper;
    this.wording = wording;
  }

  /** What {@code variable} follows from in words; nothing where it is a fact of its own. */
  List<Explanation> of(Variable variable) {
    return List.copyOf(behind(variable).told);
  }

  /**
   * The facts that {@link #of} names, and with them those that have no words; empty where a
   * constant stands against every answer.
   */
  Optional<Set<Variable>> factsOf(Variable variable) {
    Reasons reasons = behind(variable);
    return reasons.distance < NEVER ? Optional.of(reasons.facts) : Optional.empty();
  }

  /** The work done so far, in parts of equations: what an answer costs, whatever the machine. */
  long partsLookedAt() {
    return partsLookedAt;
  }

  /** What it follows from; itself where nothing is known to lie behind it. */
  private Reasons behind(Variable variable) {
    Expression meaning = stepper.network().equations().get(variable);
    return meaning == null ? fact(variable, Set.of()) : lookAt(meaning, stepper.value(variable));
  }

  private Reasons lookAt(Expression part, boolean value) {
    partsLookedAt++;
    if (part instanceof Expression.Is is) {
      return lookAt(is.variable());
    }
    if (part instanceof Expression.Not not) {
      return lookAt(not.part(), !value);
    }
    boolean wholeNeedsAll = value == (question == Question.WHAT_MAKES_IT_SO);
    if (part instanceof Expression.All whole) {
      return wholeNeedsAll ? allOf(whole.parts(), value) : nearestOf(whole.parts(), value);
    }
    List<Expression> choices = ((Expression.Any) part).parts();
    return wholeNeedsAll ? nearestOf(choices, value) : allOf(choices, value);
  }

  /** Parts that agree with the whole are what makes it so; the others have no say. */
  private List<Reasons> lookAtThoseThatAgree(List<Expression> parts, boolean value) {
    return parts.stream()
        .filter(part -> valueOf(part) == value)
        .map(part -> lookAt(part, value))
        .toList();
  }

  private Reasons allOf(List<Expression> parts, boolean value) {
    Set<Variable> facts = new LinkedHashSet<>();
    Set<Explanation> told = new LinkedHashSet<>();
    boolean answered = true;
    for (Reasons reasons : lookAtThoseThatAgree(parts, value)) {
      facts.addAll(reasons.facts);
      told.addAll(reasons.told);
      answered &= reasons.distance < NEVER;
    }
    return new Reasons(facts, told, answered ? distance(facts, told) : NEVER);
  }

  /** Of equally near ones the one that was written first. */
  private Reasons nearestOf(List<Expression> parts, boolean value) {
    return lookAtThoseThatAgree(parts, value).stream()
        .min(Comparator.comparingLong(Reasons::distance))
        .orElse(NO_ANSWER);
  }

  private Reasons lookAt(Variable variable) {
    Reasons known = found.get(variable);
    if (known == null) {
      known = told(variable);
      found.put(variable, known);
    }
    return known;
  }

  private Reasons told(Variable variable) {
    return switch (variable.words().depth()) {
      case FACT, LAST -> fact(variable, Set.of(Explanation.fact(clause(variable))));
      case BECAUSE -> withItsReasons(clause(variable), behind(variable));
      case THROUGH -> behind(variable);
    };
  }

  private static Reasons withItsReasons(String clause, Reasons behind) {
    Explanation whole = new Explanation(clause, List.copyOf(behind.told));
    return new Reasons(behind.facts, Set.of(whole), behind.distance);
  }

  private static Reasons fact(Variable variable, Set<Explanation> told) {
    return new Reasons(Set.of(variable), told, distance(Set.of(variable), told));
  }

  private static long distance(Set<Variable> facts, Set<Explanation> told) {
    boolean untold = told.isEmpty() && !facts.isEmpty();
    return facts.stream().mapToLong(ShortestReasons::distance).sum() + (untold ? UNTOLD : 0);
  }

  private static long distance(Variable fact) {
    return switch (fact.words().depth()) {
      case FACT, BECAUSE -> 1;
      case LAST, THROUGH -> FAR;
    };
  }

  private String clause(Variable variable) {
    return wording.of(variable, stepper.value(variable));
  }

  private boolean valueOf(Expression part) {
    partsLookedAt++;
    if (part instanceof Expression.Is is) {
      return stepper.value(is.variable());
    }
    if (part instanceof Expression.Not not) {
      return !valueOf(not.part());
    }
    if (part instanceof Expression.All all) {
      return all.parts().stream().allMatch(this::valueOf);
    }
    return ((Expression.Any) part).parts().stream().anyMatch(this::valueOf);
  }
}
