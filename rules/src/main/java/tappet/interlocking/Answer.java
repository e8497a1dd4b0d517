package tappet.interlocking;

import tappet.network.Explanation;

/**
 * What a person is told about a request.
 *
 * @param granted whether it was carried out
 * @param explanation what was done, or what stood against it
 */
public record Answer(boolean granted, Explanation explanation) {}
