package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.network.Variable;
import tappet.sentence.Command;
import tappet.sentence.Protected;

/**
 * Who is protected, beside the network: it decides nothing, but lends the network's facts their
 * names. An entry stands exactly as long as the network's latches do.
 */
final class ProtectionRegister {

  private final ProtectionCircuits circuits;
  private final Map<ProtectionCircuit, Protection> byCircuit = new LinkedHashMap<>();
  private final Map<Variable, Protection> byState = new LinkedHashMap<>();
  private List<String> doubts = List.of();

  ProtectionRegister(ProtectionCircuits circuits) {
    this.circuits = circuits;
  }

  /** Everything that stands, in the order in which it was given. */
  List<Protection> all() {
    return byCircuit.values().stream().distinct().toList();
  }

  List<String> doubts() {
    return doubts;
  }

  void doubt(List<String> clauses) {
    doubts = List.copyOf(clauses);
  }

  /** All that stands in another register stands here. */
  void goOn(ProtectionRegister before) {
    byCircuit.clear();
    byState.clear();
    before.all().forEach(this::enter);
    doubt(before.doubts);
  }

  Optional<Protection> on(Protected by, String device) {
    return circuits.find(by, device).map(byCircuit::get);
  }

  Optional<Protection> permitOf(String holder) {
    return all().stream()
        .filter(held -> held.by() == Protected.PERMIT && held.holder().equals(holder))
        .findFirst();
  }

  List<String> permitHolders() {
    return all().stream()
        .filter(held -> held.by() == Protected.PERMIT)
        .map(Protection::holder)
        .toList();
  }

  void enter(Protection protection) {
    circuitsOf(protection)
        .forEach(
            circuit -> {
              byCircuit.put(circuit, protection);
              byState.put(circuit.stands, protection);
            });
  }

  void strike(Protection protection) {
    circuitsOf(protection)
        .forEach(
            circuit -> {
              byCircuit.remove(circuit);
              byState.remove(circuit.stands);
            });
  }

  List<ProtectionCircuit> circuitsOf(Protection protection) {
    return protection.devices().stream()
        .map(device -> circuits.of(protection.by(), device))
        .toList();
  }

  /** What a command would end, where its name is the right one. */
  Optional<Protection> endedBy(Command.EndProtection command) {
    if (command instanceof Command.ReturnPermit end) {
      return permitOf(end.holder());
    }
    if (command instanceof Command.Unblock end) {
      return on(Protected.blocked(end.device()), end.id());
    }
    if (command instanceof Command.Unflag end) {
      return on(Protected.FLAG, end.section()).filter(held -> held.holder().equals(end.holder()));
    }
    return Optional.empty();
  }

  /** All that would stand, and all that would be in doubt, if a command were carried out. */
  KeptProtections after(Command.EndProtection command) {
    Optional<Protection> ended = endedBy(command);
    List<Protection> rest = new ArrayList<>(all());
    ended.ifPresent(rest::remove);
    boolean sure = command instanceof Command.ConfirmProtections;
    return new KeptProtections(rest, sure ? List.of() : doubts);
  }

  /** What is said of a variable: by name, where someone is protected by it. */
  String words(Variable variable, boolean value) {
    String clause = variable.words().when(value);
    if (value && variable.equals(circuits.inDoubt) && !doubts.isEmpty()) {
      return clause + " (" + String.join("; ", doubts) + ")";
    }
    Protection held = value ? byState.get(variable) : null;
    return held == null ? clause : clause + whose(held) + held.details();
  }

  private static String whose(Protection held) {
    return (held.by() == Protected.PERMIT || held.by() == Protected.FLAG ? " of " : " for ")
        + held.holder();
  }
}
