package tappet.interlocking;

import java.util.Optional;
import tappet.layout.Layout;
import tappet.network.CircularEquationException;
import tappet.network.Network;
import tappet.rules.ControlTable;
import tappet.source.Problems;

/**
 * A control table compiled for its layout. Nothing changes it any more: any number of interlockings
 * may run by it.
 */
public final class Compiled {

  final Circuits circuits;

  private Compiled(Circuits circuits) {
    this.circuits = circuits;
  }

  /**
   * Compiles a control table.
   *
   * @return empty if the owner's needs ask signals for each other in a circle, which is then among
   *     the problems
   */
  public static Optional<Compiled> of(Layout layout, ControlTable table, Problems problems) {
    try {
      return Optional.of(new Compiled(new Circuits(layout, table)));
    } catch (CircularEquationException e) {
      CircularNeeds.note(e.circle(), table, problems);
      return Optional.empty();
    }
  }

  /** The layout it is for. */
  public Layout layout() {
    return circuits.layout;
  }

  /** What was compiled. */
  public ControlTable table() {
    return circuits.table;
  }

  /** What it has become. */
  public Network network() {
    return circuits.built();
  }
}
