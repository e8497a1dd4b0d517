package tappet.bridge.hub;

/**
 * What the hub did since the daemon's start.
 *
 * @param heard frames that came from connections
 * @param told frames that came from the daemon
 * @param forwarded frames given to connections: one heard or told counts once for each
 * @param strays frames dropped because their connection was not attached (any more)
 * @param faults errors thrown by a connection or by the listener, each a mistake of the program
 * @param connections how many are attached now
 */
public record HubCounters(
    long heard, long told, long forwarded, long strays, long faults, int connections) {}
