package tappet.bridge.reload;

import tappet.bridge.proof.Standing;
import tappet.interlocking.Interlocking;

/**
 * New files that have been read without a mistake.
 *
 * @param interlocking made of them, and not started
 * @param standing how the rules stand
 * @param digest what tells the files from all others
 */
public record Edition(Interlocking interlocking, Standing standing, String digest) {}
