package tappet.simulator;

import java.util.Optional;
import tappet.layout.Track;

/** The road before a train, as its engineer sees it. */
interface Road {

  /** What follows {@code run} as the switches lie; empty at the end of track. */
  Optional<Run.Exit> beyond(Run run);

  /** The derail that would put a train off the rails at the end of {@code run}. */
  Optional<Track.Leg> derailBeyond(Run run);

  /** How fast the signal lets a train go on. */
  AspectSpeed speedBy(String signal);

  /** Whether the signal at Stop lets a train go on that has stopped, at restricted speed. */
  boolean isStopAndProceed(String signal);
}
