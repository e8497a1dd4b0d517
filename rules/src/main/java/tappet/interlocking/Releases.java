package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.sentence.Command;
import tappet.sentence.Protected;
import tappet.source.NearNames;

/** Releases hand-thrown switches and takes them back. */
final class Releases {

  private final Circuits circuits;
  private final Stepper stepper;
  private final ProtectionRegister register;
  private final Why why;

  Releases(Circuits circuits, Stepper stepper, ProtectionRegister register, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.register = register;
    this.why = why;
  }

  Requests.Pending release(Command.Release release, long nowNs) {
    ElectricLockCircuit lock = circuits.locks.get(release.switchId());
    if (lock == null) {
      return noLock(release.switchId());
    }
    Optional<String> other = heldByAnother(lock, release.holder());
    if (other.isPresent()) {
      return settled(
          false,
          lock.free.words().whenFalse(),
          List.of(Explanation.fact(other.get()), Explanation.fact("secure it first")));
    }
    boolean byHolder = isPermitsHolder(lock, release.holder());
    Variable free = byHolder ? lock.freeForHolder : lock.free;
    if (!stepper.value(free)) {
      return settled(false, free.words().whenFalse(), why.reasoning.of(free, nowNs));
    }
    why.track.holders.note(release.switchId(), release.holder());
    stepper.pulse(byHolder ? lock.releaseAskedByHolder : lock.releaseAsked);
    return now ->
        new Answer(
            true,
            new Explanation(why.track.holding(lock).orElseThrow(), why.track.lockTime(lock, now)));
  }

  /** Who has the switch already, where that is somebody else. */
  private Optional<String> heldByAnother(ElectricLockCircuit lock, Optional<String> asker) {
    Optional<String> holder = why.track.holders.of(lock.toe.id());
    return holder.isEmpty() || holder.equals(asker) ? Optional.empty() : why.track.holding(lock);
  }

  /** Whoever asks holds the permit on every end that lies under one. */
  private boolean isPermitsHolder(ElectricLockCircuit lock, Optional<String> asker) {
    List<String> holders =
        circuits.ends(lock.toe).stream()
            .flatMap(end -> register.on(Protected.PERMIT, end.toe.section()).stream())
            .map(Protection::holder)
            .distinct()
            .toList();
    return asker.isPresent() && holders.equals(List.of(asker.get()));
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
