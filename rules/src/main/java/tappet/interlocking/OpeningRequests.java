package tappet.interlocking;

import java.util.List;
import tappet.network.Stepper;
import tappet.network.Variable;

/** What a person asks of an opening: its lock. */
final class OpeningRequests {

  private final Circuits circuits;
  private final Stepper stepper;
  private final Why why;

  OpeningRequests(Circuits circuits, Stepper stepper, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.why = why;
  }

  Requests.Pending lock(String id, long nowNs) {
    OpeningCircuit opening = circuits.lineside.openings.get(id);
    return opening == null
        ? noSuch(id)
        : ask(opening, opening.canBeLocked, opening.askedToLock, "locked", nowNs);
  }

  Requests.Pending unlock(String id, long nowNs) {
    OpeningCircuit opening = circuits.lineside.openings.get(id);
    return opening == null
        ? noSuch(id)
        : ask(opening, opening.canBeUnlocked, opening.askedToUnlock, "unlocked", nowNs);
  }

  private Requests.Pending noSuch(String id) {
    return Requests.settled(Requests.noSuch("opening", id, circuits.lineside.openings.keySet()));
  }

  private Requests.Pending ask(
      OpeningCircuit opening, Variable possible, Variable asked, String state, long nowNs) {
    String name = Naming.opening(opening.opening);
    if (opening.opening.lock().isEmpty()) {
      return Requests.settled(Requests.refused(name + " has no lock", List.of()));
    }
    if (!stepper.value(possible)) {
      return Requests.settled(
          Requests.refused(possible.words().whenFalse(), why.reasoning.of(possible, nowNs)));
    }
    stepper.pulse(asked);
    return now -> Requests.granted(name + " is being " + state, List.of());
  }
}
