package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.source.Sha256;

/** 49 CFR 236.18: a verdict counts only for what was judged, and by what it would be judged now. */
class NetworkDigestTest {

  private static final String DEMANDS_ON_THE_DEMO =
      "demands 3: aede05bddffbb6c511966371988f8c2b5cff2b0bda7014e254028d5c2f6d23fe";

  @Test
  void whoeverChangesWhatIsDemandedVoidsTheVerdictsFromBefore() {
    assertEquals(
        DEMANDS_ON_THE_DEMO,
        NetworkDigest.JUDGED_BY + ": " + Sha256.digits(demands("demo")),
        "If more is demanded, or something else, NetworkDigest.JUDGED_BY counts on.");
  }

  /** What everything means that is in the network only to watch it. */
  private static String demands(String folder) {
    Network watched = Railroads.config(folder).network();
    return watched.variables().stream()
        .skip(Railroads.configUnwatched(folder).variables().size())
        .map(variable -> variable + ": " + meaning(variable, watched))
        .collect(Collectors.joining("\n"));
  }

  private static String meaning(Variable variable, Network network) {
    return Stream.of(network.equations().get(variable), network.latches().get(variable))
        .map(String::valueOf)
        .collect(Collectors.joining());
  }
}
