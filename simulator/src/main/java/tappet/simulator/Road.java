package tappet.simulator;

import java.util.Optional;

/** The road before a train, as its engineer sees it. */
interface Road {

  /** What follows {@code run} as the switches lie; empty at the end of track. */
  Optional<Run.Exit> beyond(Run run);

  /** How fast the signal lets a train go on. */
  AspectSpeed speedBy(String signal);
}
