package tappet.simulator;

import java.util.List;

/**
 * Something that must not happen on a railroad.
 *
 * @param kind what happened
 * @param trains the trains it happened to, one, or two for a collision
 * @param section the section where it happened
 * @param account what happened, for people
 * @param atNs when it happened, in nanoseconds of the railway's time
 */
public record Mishap(Kind kind, List<String> trains, String section, String account, long atNs) {

  /** The kinds of mishap. */
  public enum Kind {
    /** Two trains have touched. */
    COLLISION,
    /** A train came over the frog of a switch that lay for the other leg. */
    RUN_THROUGH,
    /** A train was on a switch that moved, or came to a derail that stood in its way. */
    DERAILMENT,
    /** A train ran on where the track ends. */
    END_OF_TRACK,
    /** A train went by a signal at Stop; by itself this harms nobody. */
    SIGNAL_PASSED
  }
}
