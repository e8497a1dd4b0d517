package tappet.rules;

import java.time.Duration;

/**
 * Times that hold for the whole railroad.
 *
 * @param lossOfShunt how long a section must report clear without a break before it counts as
 *     vacant (49 CFR 236.309), above zero
 * @param start how long nothing is granted after a start, so that a train that had accepted a
 *     signal before it can pass or stop, above zero
 */
public record Times(Duration lossOfShunt, Duration start) {}
