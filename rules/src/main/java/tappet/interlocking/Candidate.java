package tappet.interlocking;

import tappet.network.Explanation;
import tappet.rules.RouteRow;

/**
 * A route that somebody might ask for.
 *
 * @param row its row of the control table
 * @param free whether it could be lined now
 * @param words that it can, or why it cannot
 */
public record Candidate(RouteRow row, boolean free, Explanation words) {}
