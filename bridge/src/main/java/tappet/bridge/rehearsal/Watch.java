package tappet.bridge.rehearsal;

import java.util.Optional;
import tappet.interlocking.Step;

/** Looks on at every step of the interlocking while a scenario runs, and says what is wrong. */
@FunctionalInterface
public interface Watch {

  /** Sees nothing. */
  Watch NONE = (step, nowNs) -> Optional.empty();

  /**
   * The interlocking has taken a step.
   *
   * @param step what it brought about
   * @param nowNs when, in nanoseconds of the railroad's time
   * @return what is wrong, which ends the scenario; empty where all is well
   */
  Optional<String> stepped(Step step, long nowNs);
}
