package tappet.bridge.journal;

import java.util.OptionalLong;

/**
 * A session in the journal.
 *
 * @param beganUs in microseconds since 1970
 * @param endedUs when it ended in order; empty: it runs, or the daemon was killed
 * @param whole whether all of it stands there, from its start
 * @param start what the box knew, as lines of a recording
 */
record PastSession(
    int number,
    long beganUs,
    OptionalLong endedUs,
    boolean whole,
    OwnerFile layout,
    OwnerFile rules,
    String start) {}
