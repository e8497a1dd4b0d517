package tappet.bridge.hub;

/**
 * What the hub did since the daemon's start.
 *
 * @param heard frames that came from connections
 * @param told frames that came from the daemon
 * @param forwarded frames given to connections: one heard or told counts once for each
 * @param strays frames dropped because their connection was not attached (any more)
 * @param refused frames dropped because their connection is a visitor's, and may only listen
 * @param held frames dropped because their connection is cut off, or because they search for a ring
 * @param faults errors thrown by a connection or by the listener, each a mistake of the program
 * @param connections how many are attached now
 * @param cutOff how many of them are cut off now
 */
public record HubCounters(
    long heard,
    long told,
    long forwarded,
    long strays,
    long refused,
    long held,
    long faults,
    int connections,
    int cutOff) {}
