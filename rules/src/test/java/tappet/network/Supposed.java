package tappet.network;

import java.util.Set;
import tappet.network.Words.Depth;

/** What an equation would be if some facts were the opposite of what they are. */
final class Supposed {

  private final Stepper stepper;
  private final Set<Variable> changed;

  private Supposed(Stepper stepper, Set<Variable> changed) {
    this.stepper = stepper;
    this.changed = changed;
  }

  /** Facts stay as they are unless changed, also where an equation lies behind them. */
  static boolean value(Variable variable, Stepper stepper, Set<Variable> changed) {
    return new Supposed(stepper, changed).value(stepper.network().equations().get(variable));
  }

  private boolean value(Expression part) {
    if (part instanceof Expression.Is is) {
      return value(is.variable());
    }
    if (part instanceof Expression.Not not) {
      return !value(not.part());
    }
    if (part instanceof Expression.All all) {
      return all.parts().stream().allMatch(this::value);
    }
    return ((Expression.Any) part).parts().stream().anyMatch(this::value);
  }

  private boolean value(Variable variable) {
    Depth depth = variable.words().depth();
    Expression meaning = stepper.network().equations().get(variable);
    boolean isFact = meaning == null || depth == Depth.FACT || depth == Depth.LAST;
    return isFact ? stepper.value(variable) != changed.contains(variable) : value(meaning);
  }
}
