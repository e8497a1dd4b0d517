package tappet.bridge.session;

import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import tappet.simulator.TrainState;

/**
 * What a dispatcher sees at one moment.
 *
 * @param nowNs the railroad's time, in nanoseconds
 * @param minuteOfDay what the fast clock shows; empty where it is not known
 * @param trains the trains on the track, by name
 * @param locked the routes of which anything is locked
 * @param proceeding the signals that are seen to show another aspect than Stop, whatever they were
 *     told
 * @param open the switches that their electric locks do not hold
 * @param mishaps what has gone wrong on the track so far, in words
 */
public record Sight(
    long nowNs,
    OptionalInt minuteOfDay,
    Map<String, TrainState> trains,
    Set<String> locked,
    Set<String> proceeding,
    Set<String> open,
    List<String> mishaps) {}
