package tappet.proof.mutants;

import java.util.List;
import java.util.Optional;
import tappet.network.Network;
import tappet.proof.Trial;
import tappet.proof.Trial.Outcome;
import tappet.proof.mutants.Finding.Verdict;
import tappet.source.Problem;

/** Tells what becomes of faults in the rules of one railroad. */
final class Court {

  private final SoundRailroad railroad;
  private final Trial trial;

  /**
   * @param ticksMax a story of more ticks is not looked for
   */
  Court(SoundRailroad railroad, int ticksMax) {
    this.railroad = railroad;
    Network sound = railroad.compiled(railroad.rules()).orElseThrow();
    this.trial = new Trial(railroad.layout(), sound, ticksMax);
  }

  Finding finding(Fault fault) {
    Optional<Network> network = railroad.compiled(fault.text());
    if (network.isEmpty()) {
      List<Problem> mistakes = railroad.mistakes(fault.text());
      return new Finding(railroad, fault, Verdict.REFUSED, mistakes.get(0).toString());
    }
    Outcome outcome = trial.of(network.get());
    if (outcome instanceof Outcome.Disproven disproven) {
      String detail = disproven.property() + "\n" + disproven.story();
      return new Finding(railroad, fault, Verdict.DISPROVEN, detail);
    }
    if (outcome instanceof Outcome.LacksCommands lacks) {
      String detail = String.join(", ", lacks.commands());
      return new Finding(railroad, fault, Verdict.LACKS_COMMANDS, detail);
    }
    if (outcome instanceof Outcome.Unproven unproven) {
      String detail = String.join(", ", unproven.properties());
      return new Finding(railroad, fault, Verdict.UNPROVEN, detail);
    }
    return new Finding(railroad, fault, plain(outcome), "");
  }

  private static Verdict plain(Outcome outcome) {
    if (outcome instanceof Outcome.Equivalent) {
      return Verdict.EQUIVALENT;
    }
    return outcome instanceof Outcome.OtherTimes ? Verdict.OTHER_TIMES : Verdict.SAFE;
  }
}
