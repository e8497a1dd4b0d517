package tappet.bridge.proof;

import java.nio.file.Path;
import tappet.network.Network;
import tappet.proof.NetworkDigest;
import tappet.source.Sha256;

/**
 * A layout and its rules as they were read, each once. What is compiled, judged, shown to people
 * and kept in the journal is this one reading: an editor that saves meanwhile cannot have one text
 * run under the verdict on another (49 CFR 236.18).
 */
public record RailroadFiles(Text layout, Text rules) {

  /**
   * One of them.
   *
   * @param text all that stood in it; its bytes, since nothing is read that is not UTF-8
   */
  public record Text(Path file, String text) {

    /** Its name without its folder. */
    public String name() {
      return file.getFileName().toString();
    }
  }

  /** What tells these two from all others, of the bytes that were parsed: 64 hexadecimal digits. */
  public String digest() {
    return Sha256.digits(layout.text() + '\0' + rules.text());
  }

  /** The same with the network made of them: another Tappet may make and judge it otherwise. */
  public String digest(Network network) {
    return digest() + NetworkDigest.of(network);
  }
}
