package tappet.bridge.reload;

import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.Standing;
import tappet.interlocking.Interlocking;

/**
 * A layout and its rules as they were read at one moment, without a mistake.
 *
 * @param files what was read
 * @param interlocking made of them
 * @param standing how the rules stand
 */
public record Edition(RailroadFiles files, Interlocking interlocking, Standing standing) {

  /** What tells the files from all others. */
  String digest() {
    return files.digest();
  }
}
