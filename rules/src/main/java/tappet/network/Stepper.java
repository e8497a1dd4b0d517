package tappet.network;

import java.util.function.Predicate;

/**
 * Runs a network. A step is: inputs and pulses are laid on, then ticks follow until no latch
 * changes. The cost of a step follows what changes in it and not the size of the network.
 *
 * <p>Not for more than one thread. The same inputs in the same order give the same values, always.
 */
public final class Stepper {

  /**
   * More ticks than any settled chain of latches needs; beyond it the network is taken to swing.
   */
  static final int TICKS_MAX = 1_000;

  /** Hears each change of a variable, tick by tick. */
  @FunctionalInterface
  public interface ChangeListener {
    /** {@code variable} has become {@code value}. */
    void changed(Variable variable, boolean value);
  }

  private final Network network;
  private final Circuit circuit;
  private final boolean[] value;

  /** By gate: how many of its inputs must still become true before it is; none, and it is true. */
  private final int[] missing;

  private final LevelQueue queue;

  private final IntStack pulses = new IntStack();
  private final IntStack latchesToLookAt = new IntStack();
  private final boolean[] latchNoted;
  private final IntStack latchesToFlip = new IntStack();
  private final IntStack changes = new IntStack();
  private int lastFlipped;
  private long gatesLookedAt;

  /** Lays a network out and settles it with every input false. */
  public Stepper(Network network) {
    this(network, new Circuit(network));
  }

  private Stepper(Network network, Circuit circuit) {
    this.network = network;
    this.circuit = circuit;
    this.value = new boolean[circuit.nodes()];
    this.missing = circuit.missingWhenDark.clone();
    this.queue = new LevelQueue(circuit.level, circuit.levels());
    this.latchNoted = new boolean[circuit.latches()];
    wakeUp();
  }

  /** Another run of the same network, from its beginning; it need not be laid out again. */
  public Stepper again() {
    return new Stepper(network, circuit);
  }

  /** The network being run. */
  public Network network() {
    return network;
  }

  /** The present value. */
  public boolean value(Variable variable) {
    return value[variable.index()];
  }

  /** Lays an input on; it is felt in the next {@link #step}. */
  public void set(Variable input, boolean newValue) {
    require(input, Variable.Kind.INPUT);
    if (value[input.index()] != newValue) {
      change(input.index(), newValue);
    }
  }

  /** Makes a pulse true for the first tick of the next {@link #step}. */
  public void pulse(Variable pulse) {
    require(pulse, Variable.Kind.PULSE);
    if (!value[pulse.index()]) {
      change(pulse.index(), true);
      pulses.push(pulse.index());
    }
  }

  /**
   * Lets the network settle.
   *
   * @param listener hears every change of a variable since the step before, in order
   * @throws UnsettledException if latches change each other without end
   */
  public void step(ChangeListener listener) {
    settle();
    for (int index = 0; index < changes.size(); index++) {
      int change = changes.get(index);
      listener.changed(network.variables().get(change >> 1), (change & 1) == 1);
    }
    changes.clear();
  }

  /**
   * Goes on where another run stands: each input and latch takes its value there, before anything
   * is told, and the network settles.
   *
   * @param standing the value of an input or a latch
   * @throws UnsettledException if latches change each other without end
   */
  public void goOn(Predicate<Variable> standing) {
    for (Variable variable : network.variables()) {
      boolean remembers =
          variable.kind() == Variable.Kind.INPUT || variable.kind() == Variable.Kind.LATCH;
      if (remembers && value(variable) != standing.test(variable)) {
        change(variable.index(), !value(variable));
      }
    }
    for (int latch = 0; latch < circuit.latches(); latch++) {
      note(latch);
    }
    settle();
    changes.clear();
  }

  /** The work done so far, in gates: what a step costs, whatever the machine. */
  long gatesLookedAt() {
    return gatesLookedAt;
  }

  private void wakeUp() {
    boolean[] initially = Circuit.initialLatches(network.latches());
    for (int latch = 0; latch < initially.length; latch++) {
      note(latch);
      if (initially[latch]) {
        change(circuit.latchNode[latch], true);
      }
    }
    for (int node = 0; node < circuit.nodes(); node++) {
      if (circuit.isGate(node)) {
        queue.add(node);
      }
    }
    settle();
  }

  private void settle() {
    evaluateGates();
    for (int ticks = 0; endTick(); ticks++) {
      if (ticks == TICKS_MAX) {
        throw new UnsettledException(ticks, network.variables().get(lastFlipped));
      }
      evaluateGates();
    }
  }

  private void evaluateGates() {
    for (int node = queue.poll(); node >= 0; node = queue.poll()) {
      gatesLookedAt++;
      if (isDue(node)) {
        change(node, !value[node]);
      }
    }
  }

  /** Whether a gate's value no longer follows from its inputs. */
  private boolean isDue(int gate) {
    return missing[gate] <= 0 != value[gate];
  }

  /** Latches take their next values together, and pulses end; tells whether anything changed. */
  private boolean endTick() {
    while (!latchesToLookAt.isEmpty()) {
      int latch = latchesToLookAt.pop();
      latchNoted[latch] = false;
      if (next(latch) != value[circuit.latchNode[latch]]) {
        latchesToFlip.push(circuit.latchNode[latch]);
      }
    }
    boolean changed = !latchesToFlip.isEmpty() || !pulses.isEmpty();
    while (!latchesToFlip.isEmpty()) {
      lastFlipped = latchesToFlip.pop();
      change(lastFlipped, !value[lastFlipped]);
    }
    while (!pulses.isEmpty()) {
      change(pulses.pop(), false);
    }
    return changed;
  }

  private boolean next(int latch) {
    if (value[circuit.resetNode[latch]]) {
      return false;
    }
    return value[circuit.setNode[latch]] || value[circuit.latchNode[latch]];
  }

  private void change(int node, boolean now) {
    value[node] = now;
    if (node < circuit.variables()) {
      changes.push(node << 1 | (now ? 1 : 0));
    }
    if (circuit.latchDriven[node] >= 0) {
      note(circuit.latchDriven[node]);
    }
    for (int at = circuit.readersStart[node]; at < circuit.readersStart[node + 1]; at++) {
      int reader = circuit.readers[at] >> 1;
      boolean opposite = (circuit.readers[at] & 1) == 1;
      missing[reader] += now == opposite ? 1 : -1;
      if (isDue(reader)) {
        queue.add(reader);
      }
    }
  }

  private void note(int latch) {
    if (!latchNoted[latch]) {
      latchNoted[latch] = true;
      latchesToLookAt.push(latch);
    }
  }

  private void require(Variable variable, Variable.Kind kind) {
    if (variable.kind() != kind || !network.owns(variable)) {
      throw new IllegalArgumentException("'" + variable + "' is no " + kind + " of this network");
    }
  }
}
