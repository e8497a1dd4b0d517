package tappet.bridge.proof;

import java.nio.file.Path;
import java.util.Optional;
import tappet.network.Network;
import tappet.proof.NetworkDigest;

/**
 * How the rules stand that are to be run: what the last proof has found, if it was about them.
 *
 * @param answer what is known of them; rules that were never proven are not proven
 * @param words that in plain words, with what to do about it
 */
public record Standing(KeptVerdict.Answer answer, String words) {

  /** How a layout and its rules stand, and the network that was made of them. */
  public static Standing of(RailroadFiles files, Network network) {
    Path rules = files.rules().file();
    Optional<KeptVerdict> kept =
        KeptVerdict.read(KeptVerdict.beside(rules))
            .filter(verdict -> verdict.files().equals(files.digest()));
    String prove = "run 'tappet prove %s %s'".formatted(files.layout().file(), rules);
    if (kept.isEmpty()) {
      return notProven("have not been proven since they were changed; " + prove);
    }
    KeptVerdict verdict = kept.get();
    return switch (verdict.answer()) {
      case PROVEN ->
          verdict.network().equals(NetworkDigest.of(network))
              ? new Standing(
                  KeptVerdict.Answer.PROVEN, "the rules are proven (" + verdict.on() + ")")
              : notProven("were proven by another version of Tappet; " + prove);
      case NOT_PROVEN -> notProven("could not be proven: " + open(verdict));
      case DISPROVEN ->
          new Standing(KeptVerdict.Answer.DISPROVEN, "the rules are DISPROVEN: " + open(verdict));
    };
  }

  /** How rules stand of which a proof has just found this, and could not keep its verdict. */
  public static Standing notKept(KeptVerdict.Answer answer) {
    return switch (answer) {
      case PROVEN -> new Standing(answer, "the rules are proven, and the next start will not know");
      case NOT_PROVEN -> notProven("could not be proven");
      case DISPROVEN -> new Standing(answer, "the rules are DISPROVEN");
    };
  }

  private static Standing notProven(String why) {
    return new Standing(KeptVerdict.Answer.NOT_PROVEN, "the rules " + why);
  }

  private static String open(KeptVerdict verdict) {
    int others = verdict.open().size() - 1;
    String first = verdict.open().stream().findFirst().orElse("something");
    return "not so: " + first + (others > 0 ? ", and " + others + " more" : "");
  }
}
