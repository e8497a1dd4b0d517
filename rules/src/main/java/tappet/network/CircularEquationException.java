package tappet.network;

import java.util.List;
import java.util.stream.Collectors;

/** Equations that depend on each other in a circle and so have no value. */
public final class CircularEquationException extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final transient List<Variable> circle;

  CircularEquationException(List<Variable> circle) {
    super(circle.stream().map(Variable::name).collect(Collectors.joining(" ← ")));
    this.circle = List.copyOf(circle);
  }

  /** The equations of the circle, each depending on the next and the last on the first. */
  public List<Variable> circle() {
    return circle;
  }
}
