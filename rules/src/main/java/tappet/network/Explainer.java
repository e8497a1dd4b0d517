package tappet.network;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Answers "why?" from the equations alone: of a true equation the true parts, of a false one the
 * false parts that would have to change.
 */
public final class Explainer {

  /** The clause for the value of a variable. */
  @FunctionalInterface
  public interface Wording {
    /** What is said of {@code variable} while it is {@code value}. */
    String of(Variable variable, boolean value);
  }

  private final Network network;
  private final Stepper stepper;
  private final Wording wording;

  /** Explains in the words that each variable brings with it. */
  public Explainer(Stepper stepper) {
    this(stepper, (variable, value) -> variable.words().when(value));
  }

  /**
   * @param wording says more than a variable's own words where more is known
   */
  public Explainer(Stepper stepper, Wording wording) {
    this.network = stepper.network();
    this.stepper = stepper;
    this.wording = wording;
  }

  /** What {@code variable} is now, and why. */
  public Explanation explain(Variable variable) {
    return new Explanation(clause(variable), reasonsOf(variable));
  }

  /** Only what {@code variable} follows from, nearest first. */
  public List<Explanation> reasonsOf(Variable variable) {
    Expression meaning = network.equations().get(variable);
    if (meaning == null) {
      return List.of();
    }
    Set<Explanation> reasons = new LinkedHashSet<>();
    collect(meaning, stepper.value(variable), reasons);
    return new ArrayList<>(reasons);
  }

  private void collect(Expression part, boolean value, Set<Explanation> reasons) {
    if (part instanceof Expression.Is is) {
      reasons.addAll(told(is.variable()));
    } else if (part instanceof Expression.Not not) {
      collect(not.part(), !value, reasons);
    } else if (part instanceof Expression.All all) {
      collectFrom(all.parts(), value, reasons);
    } else if (part instanceof Expression.Any any) {
      collectFrom(any.parts(), value, reasons);
    }
  }

  /** Parts that agree with the whole are what makes it so. */
  private void collectFrom(List<Expression> parts, boolean value, Set<Explanation> reasons) {
    parts.stream()
        .filter(part -> valueOf(part) == value)
        .forEach(part -> collect(part, value, reasons));
  }

  private List<Explanation> told(Variable variable) {
    return switch (variable.words().depth()) {
      case FACT -> List.of(fact(variable));
      case BECAUSE -> List.of(explain(variable));
      case THROUGH -> reasonsOf(variable);
    };
  }

  private Explanation fact(Variable variable) {
    return Explanation.fact(clause(variable));
  }

  private String clause(Variable variable) {
    return wording.of(variable, stepper.value(variable));
  }

  private boolean valueOf(Expression part) {
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
