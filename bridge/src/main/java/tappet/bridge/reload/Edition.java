package tappet.bridge.reload;

import tappet.bridge.proof.KeptVerdict;
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

  /** It as a proof has just found it, whether or not it could keep its verdict. */
  Edition found(KeptVerdict.Answer answer) {
    return standing.answer() == answer
        ? this
        : new Edition(files, interlocking, Standing.notKept(answer));
  }
}
