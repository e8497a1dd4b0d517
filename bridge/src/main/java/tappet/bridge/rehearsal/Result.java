package tappet.bridge.rehearsal;

import java.util.Optional;
import tappet.simulator.scenario.Scenario;

/**
 * How a scenario went.
 *
 * @param failure where it did not go as expected; empty if it did
 * @param tookNs how long it took on the railroad, in nanoseconds
 */
public record Result(Scenario scenario, Optional<Failure> failure, long tookNs) {

  /** Whether it went as expected. */
  public boolean passed() {
    return failure.isEmpty();
  }
}
