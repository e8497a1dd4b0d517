package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.sentence.Command;
import tappet.source.NearNames;

/** Releases hand-thrown switches and takes them back. */
final class Releases {

  private final Circuits circuits;
  private final Stepper stepper;
  private final Why why;

  Releases(Circuits circuits, Stepper stepper, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.why = why;
  }

  Requests.Pending release(Command.Release release, long nowNs) {
    ElectricLockCircuit lock = circuits.locks.get(release.switchId());
    if (lock == null) {
      return noLock(release.switchId());
    }
    if (!stepper.value(lock.free)) {
      return settled(false, lock.free.words().whenFalse(), why.reasoning.of(lock.free, nowNs));
    }
    why.track.holders.note(release.switchId(), release.holder());
    stepper.pulse(lock.releaseAsked);
    return now -> new Answer(true, new Explanation(told(lock), why.track.lockTime(lock, now)));
  }

  private String told(ElectricLockCircuit lock) {
    String what =
        stepper.value(lock.released)
            ? lock.released.words().whenTrue()
            : lock.releasing.words().whenTrue();
    return why.track.holders.to(what, lock.toe);
  }

  Requests.Pending secure(Command.Secure secure, long nowNs) {
    ElectricLockCircuit lock = circuits.locks.get(secure.switchId());
    if (lock == null) {
      return noLock(secure.switchId());
    }
    if (!stepper.value(lock.canSecure)) {
      return settled(
          false, lock.canSecure.words().whenFalse(), why.reasoning.of(lock.canSecure, nowNs));
    }
    why.track.holders.note(secure.switchId(), Optional.empty());
    stepper.pulse(lock.secureAsked);
    return settled(true, Naming.toe(lock.toe) + " is told to secure", List.of());
  }

  private Requests.Pending noLock(String name) {
    List<String> known = new ArrayList<>(circuits.locks.keySet());
    boolean exists = circuits.switches.containsKey(name);
    String meant =
        exists && known.isEmpty()
            ? "the layout has no electric lock"
            : NearNames.meant(name, known, "the layout has no electric lock");
    return settled(
        false,
        (exists ? "there is no electric lock on switch '" : "there is no switch '") + name + "'",
        List.of(Explanation.fact(meant)));
  }

  private static Requests.Pending settled(boolean granted, String what, List<Explanation> because) {
    Answer answer = new Answer(granted, new Explanation(what, because));
    return now -> answer;
  }
}
