package tappet.proof.sat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/**
 * A network as an AIGER file, which any hardware model checker reads. Only what is asked about is
 * written, and what it depends on.
 *
 * <ul>
 *   <li>Inputs are the inputs and the pulses of the network, latches its latches, a step of time is
 *       a tick.
 *   <li>There is a bad state for each variable that must always be true: where it is false.
 *   <li>The constraints are what {@link Unrolling} takes for granted: one thing happens at a time,
 *       it happens when the network has settled, and a time runs out only while it is asked for. In
 *       a file they hold in each tick up to the bad one, and there too.
 * </ul>
 *
 * <p>The format is AIGER 1.9 (Biere, Heljanko, Wieringa: <i>AIGER 1.9 and beyond</i>, technical
 * report 11/2, FMV, Johannes Kepler University, Linz, 2011), written from memory; the tests read
 * the text with a reader of their own and have an outside model checker read the binary form.
 *
 * <pre>
 *   aag M I L O A B C        M = I + L + A: inputs, latches, outputs, gates, bad, constraints
 *   4                        an input
 *   6 9 1                    a latch, its next value, its first value
 *   8 6 2                    a gate and what it reads
 *   i0 section main: clear   the name of the first input; l latches, b bad states, c constraints
 * </pre>
 *
 * <p>The binary form leaves out what follows from the order: inputs, the numbers of latches and of
 * gates. A gate is the distance to its greater input and from there to the lesser one, in groups of
 * 7 bits, least first, the eighth bit telling that more follow.
 */
public final class Aiger {

  private final Network network;
  private final List<Variable> always;
  private final List<Variable> inputs;
  private final List<Latch> latches;
  private final AndGates gates;

  /** By variable: its literal. */
  private final int[] literal;

  /** By variable: its literal if no pulse came. */
  private final int[] undisturbed;

  /** By place among the latches: the literal of the value in the next tick. */
  private final int[] next;

  private final Map<String, Integer> constraints = new LinkedHashMap<>();

  /**
   * @param always variables of the network that must always be true, in the order of the bad states
   */
  public Aiger(Network network, List<Variable> always) {
    Cone cone = new Cone(network, always);
    this.network = network;
    this.always = List.copyOf(always);
    inputs = network.variables().stream().filter(cone::contains).filter(Aiger::isInput).toList();
    latches =
        network.latches().values().stream()
            .filter(latch -> cone.contains(latch.variable()))
            .toList();
    gates = new AndGates(inputs.size() + latches.size());
    literal = new int[network.variables().size()];
    undisturbed = new int[network.variables().size()];
    numberInputsAndLatches();
    network.equations().keySet().stream().filter(cone::contains).forEach(this::build);
    next = latches.stream().mapToInt(latch -> next(latch, literal)).toArray();
    constrain(network.timers().stream().filter(timer -> cone.contains(timer.runsOut())).toList());
  }

  private static boolean isInput(Variable variable) {
    return variable.kind() == Variable.Kind.INPUT || variable.kind() == Variable.Kind.PULSE;
  }

  private void numberInputsAndLatches() {
    int number = 0;
    for (Variable input : inputs) {
      literal[input.index()] = 2 * ++number;
      undisturbed[input.index()] =
          input.kind() == Variable.Kind.PULSE ? AndGates.FALSE : literal[input.index()];
    }
    for (Latch latch : latches) {
      literal[latch.variable().index()] = 2 * ++number;
      undisturbed[latch.variable().index()] = 2 * number;
    }
  }

  private void build(Variable equation) {
    Expression meaning = network.equations().get(equation);
    literal[equation.index()] = build(meaning, literal);
    undisturbed[equation.index()] = build(meaning, undisturbed);
  }

  private int build(Expression expression, int[] values) {
    if (expression instanceof Expression.Is is) {
      return values[is.variable().index()];
    }
    if (expression instanceof Expression.Not not) {
      return AndGates.not(build(not.part(), values));
    }
    if (expression instanceof Expression.All all) {
      return all.parts().stream()
          .mapToInt(part -> build(part, values))
          .reduce(AndGates.TRUE, gates::and);
    }
    return ((Expression.Any) expression)
        .parts().stream().mapToInt(part -> build(part, values)).reduce(AndGates.FALSE, gates::or);
  }

  private int next(Latch latch, int[] values) {
    int stays = gates.or(build(latch.set(), values), literal[latch.variable().index()]);
    return gates.and(AndGates.not(build(latch.reset(), values)), stays);
  }

  private void constrain(List<Timer> timers) {
    List<Integer> happenings = happenings();
    int anything = happenings.stream().reduce(AndGates.FALSE, gates::or);
    constraints.put("one thing happens at a time", alone(happenings));
    constraints.put(
        "things happen when the network has settled", gates.or(AndGates.not(anything), settled()));
    for (Timer timer : timers) {
      int runsOut = literal[timer.runsOut().index()];
      int running = literal[timer.running().index()];
      constraints.put(
          timer.runsOut() + " only while it is asked for",
          gates.or(AndGates.not(runsOut), running));
    }
  }

  /** A literal for each pulse, but only one for pulses that may come together. */
  private List<Integer> happenings() {
    Map<Set<Variable>, Integer> happenings = new LinkedHashMap<>();
    for (Variable input : inputs) {
      if (input.kind() == Variable.Kind.PULSE) {
        Set<Variable> group = network.comesWith(input).orElse(Set.of(input));
        happenings.merge(group, literal[input.index()], gates::or);
      }
    }
    return List.copyOf(happenings.values());
  }

  private int alone(List<Integer> happenings) {
    int alone = AndGates.TRUE;
    int before = AndGates.FALSE;
    for (int happens : happenings) {
      alone = gates.and(alone, AndGates.not(gates.and(before, happens)));
      before = gates.or(before, happens);
    }
    return alone;
  }

  /** That every latch would stay as it is if no pulse came. */
  private int settled() {
    int settled = AndGates.TRUE;
    for (Latch latch : latches) {
      int now = literal[latch.variable().index()];
      int next = next(latch, undisturbed);
      int rises = gates.and(next, AndGates.not(now));
      int falls = gates.and(now, AndGates.not(next));
      settled = gates.and(settled, gates.and(AndGates.not(rises), AndGates.not(falls)));
    }
    return settled;
  }

  /** Writes the text form, {@code aag}. */
  public void writeText(Appendable out) throws IOException {
    out.append(header("aag"));
    for (Variable input : inputs) {
      out.append(literal[input.index()] + "\n");
    }
    for (int latch = 0; latch < next.length; latch++) {
      out.append(literal[latches.get(latch).variable().index()] + " " + memory(latch));
    }
    out.append(badStatesAndConstraints());
    for (int gate = 0; gate < gates.gates().size(); gate++) {
      AndGates.Gate reads = gates.gates().get(gate);
      out.append(gates.literal(gate) + " " + reads.greater() + " " + reads.lesser() + "\n");
    }
    out.append(names());
  }

  /** Writes the binary form, {@code aig}. */
  public void writeBinary(OutputStream out) throws IOException {
    StringBuilder start = new StringBuilder(header("aig"));
    for (int latch = 0; latch < next.length; latch++) {
      start.append(memory(latch));
    }
    out.write(bytes(start.append(badStatesAndConstraints())));
    for (int gate = 0; gate < gates.gates().size(); gate++) {
      AndGates.Gate reads = gates.gates().get(gate);
      writeNumber(gates.literal(gate) - reads.greater(), out);
      writeNumber(reads.greater() - reads.lesser(), out);
    }
    out.write(bytes(names()));
  }

  private static byte[] bytes(CharSequence text) {
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }

  private static void writeNumber(int number, OutputStream out) throws IOException {
    int left = number;
    while (left > 0x7F) {
      out.write((left & 0x7F) | 0x80);
      left >>>= 7;
    }
    out.write(left);
  }

  private String header(String form) {
    int ands = gates.gates().size();
    return "%s %d %d %d 0 %d %d %d\n"
        .formatted(
            form,
            inputs.size() + latches.size() + ands,
            inputs.size(),
            latches.size(),
            ands,
            always.size(),
            constraints.size());
  }

  private String memory(int latch) {
    return next[latch] + " " + (latches.get(latch).initially() ? 1 : 0) + "\n";
  }

  private StringBuilder badStatesAndConstraints() {
    StringBuilder text = new StringBuilder();
    for (Variable holds : always) {
      text.append(AndGates.not(literal[holds.index()])).append('\n');
    }
    constraints.values().forEach(constraint -> text.append(constraint.intValue()).append('\n'));
    return text;
  }

  private StringBuilder names() {
    StringBuilder text = new StringBuilder();
    name("i", inputs, text);
    name("l", latches.stream().map(Latch::variable).toList(), text);
    name("b", always, text);
    name("c", constraints.keySet(), text);
    return text;
  }

  private static void name(String kind, Collection<?> named, StringBuilder text) {
    int place = 0;
    for (Object one : named) {
      text.append(kind).append(place++).append(' ').append(OneLine.of(one.toString())).append('\n');
    }
  }
}
