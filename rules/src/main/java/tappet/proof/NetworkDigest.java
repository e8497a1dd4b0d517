package tappet.proof;

import tappet.network.Network;

/** What tells one network from every other: by this a verdict is known to be about what runs. */
public final class NetworkDigest {

  private NetworkDigest() {}

  /** 64 hexadecimal digits; equal for networks that say the same. */
  public static String of(Network network) {
    return new Meanings(network).of(network.variables()).toString();
  }
}
