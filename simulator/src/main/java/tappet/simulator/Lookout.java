package tappet.simulator;

import java.util.Optional;

/** What an engineer sees of other trains. */
@FunctionalInterface
interface Lookout {

  /**
   * A train in the way.
   *
   * @param train its name
   * @param metres how far it is from the head of the train that looks out, from 0
   * @param canBeCoupledTo whether it stands in line, and has not come to grief
   */
  record Sighting(String train, double metres, boolean canBeCoupledTo) {}

  /**
   * The next train in the way of a train, as the switches lie.
   *
   * @param sightMetres farther than this nothing is seen
   */
  Optional<Sighting> ahead(Consist consist, double sightMetres);
}
