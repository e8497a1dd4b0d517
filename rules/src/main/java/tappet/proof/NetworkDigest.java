package tappet.proof;

import tappet.network.Network;

/** What tells one network from every other: by this a verdict is known to be about what runs. */
public final class NetworkDigest {

  /** Whoever changes what is demanded of a network counts on, and verdicts from before are void. */
  static final String JUDGED_BY = "demands 3";

  private NetworkDigest() {}

  /** 64 hexadecimal digits; equal for networks that say the same and are judged by the same. */
  public static String of(Network network) {
    return Fingerprint.of(JUDGED_BY).plus(new Meanings(network).of(network.variables())).toString();
  }
}
