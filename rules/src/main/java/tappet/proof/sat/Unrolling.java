package tappet.proof.sat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * The equations of a network as clauses, one copy a tick. Only what is asked for is written down,
 * and so only the cone of influence of a question.
 *
 * <p>Inputs may change in any tick, also in the midst of a step: that is more than the stepper
 * allows, so what is proved here holds for it. Pulses come only when the network has settled, one
 * at a time, or together where the network says so; and a time runs out only while it is asked for.
 */
public final class Unrolling {

  /** What is known of the first tick. */
  public enum From {
    /** Latches have their initial values. */
    START,
    /** Latches have any values. */
    ANYWHERE,
    /** Inputs and latches have the values of one state. */
    GIVEN
  }

  private static final int UNWRITTEN = 0;

  private final Network network;
  private final Clauses clauses;
  private final From from;
  private final Predicate<Variable> firstValues;
  private final int yes;
  private final List<int[]> ticks = new ArrayList<>();

  /** By tick: what a variable would be if no pulse came; only where that differs. */
  private final List<int[]> withoutPulses = new ArrayList<>();

  /** By tick: that a pulse of those written so far comes in it. */
  private final List<Integer> pulsed = new ArrayList<>();

  /** By tick: true at least when any pulse comes in it. */
  private final List<Integer> disturbed = new ArrayList<>();

  /** By tick and group: that a pulse of the group comes in it. */
  private final List<Map<Set<Variable>, Integer>> groups = new ArrayList<>();

  private final Map<Variable, Set<Variable>> groupOf = new HashMap<>();
  private final boolean[] readsPulse;

  public Unrolling(Network network, Clauses clauses, From from) {
    this(network, clauses, from, variable -> false);
  }

  /**
   * Begins where a network stands.
   *
   * @param values the values of inputs and latches in the first tick
   */
  public Unrolling(Network network, Clauses clauses, Predicate<Variable> values) {
    this(network, clauses, From.GIVEN, values);
  }

  private Unrolling(Network network, Clauses clauses, From from, Predicate<Variable> firstValues) {
    this.network = network;
    this.clauses = clauses;
    this.from = from;
    this.firstValues = firstValues;
    this.yes = clauses.yes();
    network.together().forEach(group -> group.forEach(pulse -> groupOf.put(pulse, group)));
    this.readsPulse = whatReadsPulses(network);
  }

  private static boolean[] whatReadsPulses(Network network) {
    boolean[] reads = new boolean[network.variables().size()];
    for (Variable variable : network.variables()) {
      reads[variable.index()] = variable.kind() == Variable.Kind.PULSE;
    }
    network
        .equations()
        .forEach((equation, meaning) -> reads[equation.index()] = readsPulse(meaning, reads));
    return reads;
  }

  private static boolean readsPulse(Expression expression, boolean[] reads) {
    if (expression instanceof Expression.Is is) {
      return reads[is.variable().index()];
    }
    if (expression instanceof Expression.Not not) {
      return readsPulse(not.part(), reads);
    }
    return partsOf(expression).stream().anyMatch(part -> readsPulse(part, reads));
  }

  private static List<Expression> partsOf(Expression expression) {
    return expression instanceof Expression.All all
        ? all.parts()
        : ((Expression.Any) expression).parts();
  }

  /** The literal for the value of a variable in a tick, from 0. */
  public int literal(Variable variable, int tick) {
    int[] written = tick(tick);
    if (written[variable.index()] == UNWRITTEN) {
      written[variable.index()] = write(variable, tick);
    }
    return written[variable.index()];
  }

  /** The literal for the value of an expression in a tick, from 0. */
  public int literal(Expression expression, int tick) {
    return literal(expression, tick, true);
  }

  private int literal(Expression expression, int tick, boolean pulses) {
    if (expression instanceof Expression.Is is) {
      return pulses ? literal(is.variable(), tick) : withoutPulses(is.variable(), tick);
    }
    if (expression instanceof Expression.Not not) {
      return -literal(not.part(), tick, pulses);
    }
    int[] parts =
        partsOf(expression).stream().mapToInt(part -> literal(part, tick, pulses)).toArray();
    return expression instanceof Expression.All ? both(parts) : either(parts);
  }

  private int withoutPulses(Variable variable, int tick) {
    if (!readsPulse[variable.index()]) {
      return literal(variable, tick);
    }
    if (variable.kind() == Variable.Kind.PULSE) {
      return -yes;
    }
    tick(tick);
    int[] written = withoutPulses.get(tick);
    if (written[variable.index()] == UNWRITTEN) {
      written[variable.index()] = literal(network.equations().get(variable), tick, false);
    }
    return written[variable.index()];
  }

  /** Whether a variable has been written for a tick, because something asked for depends on it. */
  public boolean isWritten(Variable variable, int tick) {
    return tick < ticks.size() && ticks.get(tick)[variable.index()] != UNWRITTEN;
  }

  /** That all of the literals hold. */
  public int both(int... literals) {
    Set<Integer> parts = new LinkedHashSet<>();
    for (int literal : literals) {
      if (literal == -yes || parts.contains(-literal)) {
        return -yes;
      }
      if (literal != yes) {
        parts.add(literal);
      }
    }
    return switch (parts.size()) {
      case 0 -> yes;
      case 1 -> parts.iterator().next();
      default -> gate(parts.stream().mapToInt(Integer::intValue).toArray());
    };
  }

  /** That at least one of the literals holds. */
  public int either(int... literals) {
    return -both(Arrays.stream(literals).map(literal -> -literal).toArray());
  }

  private int gate(int[] parts) {
    int gate = clauses.fresh();
    int[] whole =
        Arrays.copyOf(Arrays.stream(parts).map(part -> -part).toArray(), parts.length + 1);
    whole[parts.length] = gate;
    clauses.demand(whole);
    for (int part : parts) {
      clauses.demand(-gate, part);
    }
    return gate;
  }

  private int write(Variable variable, int tick) {
    return switch (variable.kind()) {
      case INPUT -> isGiven(tick) ? constant(firstValues.test(variable)) : clauses.fresh();
      case PULSE -> writePulse(variable, tick);
      case EQUATION -> literal(network.equations().get(variable), tick);
      case LATCH -> writeLatch(network.latches().get(variable), tick);
    };
  }

  private int writeLatch(Latch latch, int tick) {
    if (tick > 0) {
      demandSettled(latch, tick - 1);
      int stays = either(literal(latch.set(), tick - 1), literal(latch.variable(), tick - 1));
      return both(stays, -literal(latch.reset(), tick - 1));
    }
    if (from == From.ANYWHERE) {
      return clauses.fresh();
    }
    return constant(isGiven(tick) ? firstValues.test(latch.variable()) : latch.initially());
  }

  private boolean isGiven(int tick) {
    return tick == 0 && from == From.GIVEN;
  }

  private int constant(boolean value) {
    return value ? yes : -yes;
  }

  /** When a pulse comes, the latch would have stayed as it is without it. */
  private void demandSettled(Latch latch, int tick) {
    tick(tick);
    int now = literal(latch.variable(), tick);
    int set = literal(latch.set(), tick, false);
    int reset = literal(latch.reset(), tick, false);
    clauses.demand(-disturbed.get(tick), -reset, -now);
    clauses.demand(-disturbed.get(tick), -set, reset, now);
  }

  private int writePulse(Variable pulse, int tick) {
    int literal = clauses.fresh();
    tick(tick)[pulse.index()] = literal;
    clauses.demand(-literal, disturbed.get(tick));
    network
        .timerEndedBy(pulse)
        .ifPresent(timer -> clauses.demand(-literal, literal(timer.running(), tick)));
    Set<Variable> group = groupOf.get(pulse);
    if (group == null) {
      comesAlone(literal, tick);
    } else {
      clauses.demand(-literal, groups.get(tick).computeIfAbsent(group, any -> newGroup(tick)));
    }
    return literal;
  }

  private int newGroup(int tick) {
    int comes = clauses.fresh();
    comesAlone(comes, tick);
    return comes;
  }

  /**
   * One thing happens at a time (interlocking sheet, P9): two requests are never granted at once.
   */
  private void comesAlone(int literal, int tick) {
    int before = pulsed.get(tick);
    clauses.demand(-literal, -before);
    pulsed.set(tick, either(before, literal));
  }

  private int[] tick(int tick) {
    while (ticks.size() <= tick) {
      ticks.add(new int[network.variables().size()]);
      withoutPulses.add(new int[network.variables().size()]);
      pulsed.add(-yes);
      disturbed.add(clauses.fresh());
      groups.add(new HashMap<>());
    }
    return ticks.get(tick);
  }
}
