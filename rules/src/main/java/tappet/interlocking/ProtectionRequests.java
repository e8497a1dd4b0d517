package tappet.interlocking;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.sentence.Command;
import tappet.sentence.Protected;
import tappet.source.NearNames;

/**
 * Turns what people at work ask into pulses, and tells what came of it. Who may give a protection
 * up is looked at here, like a signature; whether it can be given is the network's to say.
 */
final class ProtectionRequests {

  private final Circuits circuits;
  private final Stepper stepper;
  private final ProtectionRegister register;
  private final Why why;

  ProtectionRequests(Circuits circuits, Stepper stepper, ProtectionRegister register, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.register = register;
    this.why = why;
  }

  /** Lays on what concerns people at work; empty where the request is about something else. */
  Optional<Requests.Pending> lay(Input.Request request, long nowNs) {
    if (request.command() instanceof Command.Protect command) {
      return Optional.of(protect(wanted(command, request.moment()), nowNs));
    }
    if (request.command() instanceof Command.ConfirmProtections) {
      return Optional.of(confirm());
    }
    if (request.command() instanceof Command.EndProtection command) {
      return Optional.of(end(command));
    }
    if (request.command() instanceof Command.ThrowFor command) {
      return Optional.of(move(command, nowNs));
    }
    return Optional.empty();
  }

  private static Protection wanted(Command.Protect command, Moment since) {
    if (command instanceof Command.GrantPermit grant) {
      return new Protection(
          Protected.PERMIT, grant.sections(), grant.holder(), since, grant.reason());
    }
    if (command instanceof Command.Block block) {
      return new Protection(
          Protected.blocked(block.device()),
          List.of(block.id()),
          block.holder(),
          since,
          block.reason());
    }
    Command.Flag flag = (Command.Flag) command;
    return new Protection(
        Protected.FLAG, List.of(flag.section()), flag.holder(), since, flag.reason());
  }

  private Requests.Pending protect(Protection wanted, long nowNs) {
    Optional<Answer> unknown = unknownDevice(wanted.by(), wanted.devices());
    if (unknown.isPresent()) {
      return Requests.settled(unknown.get());
    }
    if (wanted.by() == Protected.PERMIT && register.permitOf(wanted.holder()).isPresent()) {
      return Requests.settled(holdsOneAlready(wanted));
    }
    List<ProtectionCircuit> asked = register.circuitsOf(wanted);
    if (!asked.stream().allMatch(circuit -> is(circuit.available))) {
      return Requests.settled(
          Requests.refused(
              wanted.words() + " cannot be " + given(wanted),
              why.people.cannotBeProtected(wanted, nowNs)));
    }
    asked.forEach(circuit -> stepper.pulse(circuit.asked));
    register.enter(wanted);
    return now ->
        Requests.granted(
            wanted.words() + " is " + given(wanted), why.people.toBeAgreedOn(wanted, now));
  }

  private Answer holdsOneAlready(Protection wanted) {
    Protection held = register.permitOf(wanted.holder()).orElseThrow();
    return Requests.refused(
        wanted.words() + " cannot be granted",
        List.of(
            Explanation.fact(held.wholeStory() + " stands; return it, or name the other crew")));
  }

  private static String given(Protection protection) {
    return protection.by() == Protected.PERMIT ? "granted" : "set";
  }

  private Requests.Pending end(Command.EndProtection command) {
    Optional<Protection> ended = register.endedBy(command);
    if (ended.isEmpty()) {
      return Requests.settled(nothingToEnd(command));
    }
    Protection protection = ended.get();
    register.circuitsOf(protection).forEach(circuit -> stepper.pulse(circuit.ended));
    register.strike(protection);
    return now -> Requests.granted(protection.words() + " is " + taken(protection), List.of());
  }

  private static String taken(Protection protection) {
    return switch (protection.by()) {
      case PERMIT -> "returned";
      case FLAG -> "removed";
      case BLOCKED_SIGNAL, BLOCKED_SWITCH, BLOCKED_SECTION -> "lifted";
    };
  }

  private Answer nothingToEnd(Command.EndProtection command) {
    if (command instanceof Command.ReturnPermit end) {
      return noPermitOf(end.holder());
    }
    if (command instanceof Command.Unblock end) {
      return notInForce(Protected.blocked(end.device()), end.id());
    }
    return notInForce(Protected.FLAG, ((Command.Unflag) command).section());
  }

  private Answer noPermitOf(String holder) {
    String meant = NearNames.meant(holder, register.permitHolders(), "no permit stands");
    return Requests.refused(
        "nobody named '" + holder + "' holds a permit", List.of(Explanation.fact(meant)));
  }

  /** It does not stand, or somebody else's does. */
  private Answer notInForce(Protected by, String device) {
    Optional<Answer> unknown = unknownDevice(by, List.of(device));
    if (unknown.isPresent()) {
      return unknown.get();
    }
    Variable stands = circuits.protections.of(by, device).stands;
    return register
        .on(by, device)
        .map(
            held ->
                Requests.refused(
                    register.words(stands, true),
                    List.of(Explanation.fact("only " + held.holder() + " removes it"))))
        .orElseGet(() -> Requests.refused(register.words(stands, false), List.of()));
  }

  private Requests.Pending confirm() {
    if (!is(circuits.protections.inDoubt)) {
      return Requests.settled(
          Requests.refused(register.words(circuits.protections.inDoubt, false), List.of()));
    }
    stepper.pulse(circuits.protections.confirmed);
    register.doubt(List.of());
    return now -> Requests.granted("protections are confirmed", why.people.protections());
  }

  private Requests.Pending move(Command.ThrowFor move, long nowNs) {
    SwitchCircuit toe = circuits.switches.get(move.switchId());
    if (toe == null) {
      return Requests.settled(
          Requests.noSuch("switch", move.switchId(), circuits.switches.keySet()));
    }
    for (SwitchCircuit end : circuits.ends(toe.toe)) {
      Optional<Protection> permit = register.on(Protected.PERMIT, end.toe.section());
      if (permit.filter(held -> held.holder().equals(move.holder())).isEmpty()) {
        return Requests.settled(notTheHolder(end, move.holder()));
      }
    }
    if (toe.motor.isEmpty()) {
      return Requests.settled(thrownByHand(toe));
    }
    ProtectedSwitch people = circuits.protections.of(toe);
    Variable blocked = people.blockedForHolder(move.position());
    if (is(blocked) || is(people.fixed) || !is(toe.motor.get().movable)) {
      return Requests.settled(
          Requests.refused(
              blocked.words().whenTrue(),
              why.people.isBlockedForHolder(people, move.position(), nowNs)));
    }
    stepper.pulse(lead(toe).askedByHolder(move.position()));
    return now ->
        Requests.granted(
            Naming.toe(toe.toe) + " is sent " + move.position().word() + " for " + move.holder(),
            List.of());
  }

  /** Ends that move together are asked for by the first of them. */
  private ProtectedSwitch lead(SwitchCircuit toe) {
    return circuits.protections.of(circuits.toe(toe.toe.number()));
  }

  private static Answer thrownByHand(SwitchCircuit toe) {
    return Requests.refused(
        Naming.toe(toe.toe) + " has no motor",
        List.of(Explanation.fact(ThrownBy.another(toe.toe).orElseThrow())));
  }

  private Answer notTheHolder(SwitchCircuit toe, String holder) {
    Variable permit = circuits.protections.of(Protected.PERMIT, toe.toe.section()).stands;
    return Requests.refused(
        Naming.toe(toe.toe) + " is not " + holder + "'s to throw",
        List.of(Explanation.fact(register.words(permit, is(permit)))));
  }

  private Optional<Answer> unknownDevice(Protected by, List<String> devices) {
    Collection<String> known = known(by.device());
    return devices.stream()
        .filter(device -> !known.contains(device))
        .findFirst()
        .map(device -> Requests.noSuch(by.device().word(), device, known));
  }

  private Set<String> known(Protected.Device device) {
    return switch (device) {
      case SIGNAL -> circuits.signals.keySet();
      case SWITCH -> circuits.switches.keySet();
      case SECTION -> circuits.sections.keySet();
    };
  }

  /** Lays on what stood before the start; what has no place any more is in doubt. */
  void restore(KeptProtections kept) {
    List<String> doubts = new ArrayList<>(kept.doubts());
    for (Protection protection : kept.protections()) {
      restore(protection, doubts);
    }
    register.doubt(doubts);
    if (!doubts.isEmpty()) {
      stepper.pulse(circuits.protections.lost);
    }
  }

  private void restore(Protection protection, List<String> doubts) {
    Collection<String> known = known(protection.by().device());
    List<String> here = protection.devices().stream().filter(known::contains).toList();
    if (here.size() < protection.devices().size()) {
      doubts.add(
          protection.wholeStory()
              + " has no place any more: the layout has no "
              + protection.by().device().word()
              + " of that name");
    }
    if (!here.isEmpty()) {
      Protection placed =
          new Protection(
              protection.by(), here, protection.holder(), protection.since(), protection.reason());
      register.circuitsOf(placed).forEach(circuit -> stepper.pulse(circuit.restored));
      register.enter(placed);
    }
  }

  private boolean is(Variable variable) {
    return stepper.value(variable);
  }
}
