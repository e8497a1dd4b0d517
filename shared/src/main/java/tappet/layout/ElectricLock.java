package tappet.layout;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;

/**
 * The electric lock of a switch that is thrown by hand.
 *
 * @param to the events that command it
 * @param at the events a board sends when it is detected; empty where it has no detection
 * @param assumedAfter without detection: how long after it was told to secure it is taken to hold,
 *     above 0; else empty
 */
public record ElectricLock(
    Map<LockState, EventId> to, Map<LockState, EventId> at, Optional<Duration> assumedAfter) {}
