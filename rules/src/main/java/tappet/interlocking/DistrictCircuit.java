package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.List;
import java.util.Optional;
import tappet.layout.PowerDistrict;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * A power district. A detector without power tells nothing, whatever it says (49 CFR 236.5): while
 * the breaker is tripped, or nothing is known of it, the district's sections are unknown. What a
 * detector said before power was restored does not count afterwards.
 */
final class DistrictCircuit implements LinesideCircuit {

  final PowerDistrict district;

  /** Its breaker is known to have tripped. */
  final Variable tripped;

  private final Indication breaker;
  private final Variable powered;

  DistrictCircuit(PowerDistrict district, NetworkBuilder network) {
    this.district = district;
    String name = Naming.device(district);
    String role = district.key() + ": ";
    breaker = new Indication(role, name, "tripped", "restored", network);
    tripped =
        network.equation(
            role + "tripped",
            Words.fact(name + " is tripped; unknown: " + load(), name + " is not tripped"),
            breaker.isOne());
    powered = network.equation(role + "powered", Words.through(), breaker.isOther());
  }

  /** Its breaker is known to have tripped, or known to be in. */
  Expression isTripped(boolean wanted) {
    return breaker.isOne(wanted);
  }

  /** Whether its breaker has tripped; empty where nothing is known. */
  Optional<Boolean> isTripped(Stepper stepper) {
    return breaker.now(stepper);
  }

  void lay(Optional<Boolean> isTripped, Stepper stepper) {
    breaker.lay(isTripped, stepper);
  }

  /**
   * Whether a section's detector counts: there is power, and it has spoken since there is.
   *
   * @param reported its detector has spoken
   */
  Variable vouchesFor(String role, String name, Variable reported, NetworkBuilder network) {
    Variable stale = network.latch(role + "speaks of before", Words.through());
    network.define(stale, not(powered), all(is(powered), not(reported)));
    Variable silent =
        network.equation(
            role + "silent",
            Words.fact(name + " has not reported since there is power", name + " reports"),
            all(is(powered), not(all(is(reported), not(stale)))));
    return network.equation(
        role + "known",
        Words.joining(name + " reports", name + " is unknown"),
        all(is(powered), not(silent)));
  }

  @Override
  public void define(Circuits circuits) {}

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    return new Explanation(
        breaker.words(stepper),
        stepper.value(powered) ? List.of() : List.of(Explanation.fact("unknown: " + load())));
  }

  private String load() {
    return district.sections().isEmpty()
        ? "nothing"
        : (district.sections().size() == 1 ? "section " : "sections ")
            + String.join(", ", district.sections());
  }
}
