package tappet.network;

import java.util.List;
import tappet.network.ShortestReasons.Question;

/**
 * Answers "why?" from the equations alone, in as few facts as will do.
 *
 * <ul>
 *   <li>Of what is false it names the shortest set of facts that would have to change: of a false
 *       whole every false part, of a choice of which nothing is true the one alternative that needs
 *       the fewest facts.
 *   <li>Of what is true it names what is enough to make it so: of a whole every part, of a choice
 *       one alternative that is true. {@link #whatKeeps} asks the other question of it.
 * </ul>
 *
 * <p>A fact that several parts read is named once and counts once; of equally short alternatives
 * the one written first is named. An alternative that leads to what people look to last, or to what
 * has no words, is taken only where no other would do. Where no two parts read the same fact no
 * smaller set exists; where they do, what is named is enough but may not be the least.
 */
public final class Explainer {

  /** The clause for the value of a variable. */
  @FunctionalInterface
  public interface Wording {
    /** What is said of {@code variable} while it is {@code value}. */
    String of(Variable variable, boolean value);
  }

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
    this.stepper = stepper;
    this.wording = wording;
  }

  /** What {@code variable} is now, and why. */
  public Explanation explain(Variable variable) {
    return new Explanation(wording.of(variable, stepper.value(variable)), reasonsOf(variable));
  }

  /** Only what {@code variable} follows from, nearest first. */
  public List<Explanation> reasonsOf(Variable variable) {
    return stepper.value(variable)
        ? search(Question.WHAT_MAKES_IT_SO).of(variable)
        : whatKeeps(variable);
  }

  /**
   * What would have to change before {@code variable} changes, nearest first: of a lock that is
   * wanted free, everything that holds it and not one thing that is enough to.
   */
  public List<Explanation> whatKeeps(Variable variable) {
    return search(Question.WHAT_KEEPS_IT_SO).of(variable);
  }

  private ShortestReasons search(Question question) {
    return new ShortestReasons(question, stepper, wording);
  }
}
