package tappet.proof.sat;

import java.nio.IntBuffer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
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
 * allows, so what is proved here holds for it. Only what begins where a network stands is what the
 * stepper does (interlocking sheet, P9): there inputs, too, change when the network has settled.
 * Pulses come only then, one at a time, or together where the network says so; and a time runs out
 * only while it is asked for.
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

  /** What has been written of one tick. */
  private static final class Tick {

    final Map<Variable, Integer> literals = new LinkedHashMap<>();

    /** What a variable would be if no pulse came; only where that differs. */
    final Map<Variable, Integer> withoutPulses = new HashMap<>();

    /** By group, of which there is one each: that a pulse of it comes. */
    final IdentityHashMap<Set<Variable>, Integer> groups = new IdentityHashMap<>();

    /** True at least when any pulse comes. */
    final int disturbed;

    /** True at least when any input changes and that must wait until the network has settled. */
    final int reported;

    /** That a pulse of those written so far comes. */
    int pulsed;

    Tick(int disturbed, int reported, int pulsed) {
      this.disturbed = disturbed;
      this.reported = reported;
      this.pulsed = pulsed;
    }
  }

  private final Network network;
  private final Clauses clauses;
  private final From from;
  private final Predicate<Variable> firstValues;
  private final int yes;
  private final List<Tick> ticks = new ArrayList<>();

  /** What holds when all of some literals do, by these. */
  private final Map<IntBuffer, Integer> gates = new HashMap<>();

  private final Map<Variable, Boolean> readsPulse = new HashMap<>();

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
  }

  private boolean readsPulse(Variable variable) {
    return switch (variable.kind()) {
      case PULSE -> true;
      case INPUT, LATCH -> false;
      case EQUATION -> {
        Boolean known = readsPulse.get(variable);
        if (known == null) {
          known = readsPulse(network.equations().get(variable));
          readsPulse.put(variable, known);
        }
        yield known;
      }
    };
  }

  private boolean readsPulse(Expression expression) {
    if (expression instanceof Expression.Is is) {
      return readsPulse(is.variable());
    }
    if (expression instanceof Expression.Not not) {
      return readsPulse(not.part());
    }
    for (Expression part : partsOf(expression)) {
      if (readsPulse(part)) {
        return true;
      }
    }
    return false;
  }

  private static List<Expression> partsOf(Expression expression) {
    return expression instanceof Expression.All all
        ? all.parts()
        : ((Expression.Any) expression).parts();
  }

  /** The literal for the value of a variable in a tick, from 0. */
  public int literal(Variable variable, int tick) {
    Map<Variable, Integer> written = tick(tick).literals;
    Integer literal = written.get(variable);
    if (literal == null) {
      literal = write(variable, tick);
      written.put(variable, literal);
    }
    return literal;
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
    List<Expression> parts = partsOf(expression);
    int[] literals = new int[parts.size()];
    for (int part = 0; part < literals.length; part++) {
      literals[part] = literal(parts.get(part), tick, pulses);
    }
    return expression instanceof Expression.All ? both(literals) : either(literals);
  }

  private int withoutPulses(Variable variable, int tick) {
    if (!readsPulse(variable)) {
      return literal(variable, tick);
    }
    if (variable.kind() == Variable.Kind.PULSE) {
      return -yes;
    }
    Map<Variable, Integer> written = tick(tick).withoutPulses;
    Integer literal = written.get(variable);
    if (literal == null) {
      literal = literal(network.equations().get(variable), tick, false);
      written.put(variable, literal);
    }
    return literal;
  }

  /** Whether a variable has been written for a tick, because something asked for depends on it. */
  public boolean isWritten(Variable variable, int tick) {
    return tick < ticks.size() && ticks.get(tick).literals.containsKey(variable);
  }

  /** What has been written for a tick, because something asked for depends on it. */
  public Set<Variable> written(int tick) {
    return tick < ticks.size()
        ? Collections.unmodifiableSet(ticks.get(tick).literals.keySet())
        : Set.of();
  }

  /** That all of the literals hold. */
  public int both(int... literals) {
    int[] sorted = literals.clone();
    Arrays.sort(sorted);
    int[] parts = new int[sorted.length];
    int count = 0;
    for (int literal : sorted) {
      if (literal == -yes || Arrays.binarySearch(sorted, -literal) >= 0) {
        return -yes;
      }
      if (literal != yes && (count == 0 || literal != parts[count - 1])) {
        parts[count++] = literal;
      }
    }
    return switch (count) {
      case 0 -> yes;
      case 1 -> parts[0];
      default -> gates.computeIfAbsent(IntBuffer.wrap(parts, 0, count), this::gate);
    };
  }

  /** That at least one of the literals holds. */
  public int either(int... literals) {
    int[] opposites = new int[literals.length];
    for (int index = 0; index < literals.length; index++) {
      opposites[index] = -literals[index];
    }
    return -both(opposites);
  }

  private int gate(IntBuffer parts) {
    int gate = clauses.fresh();
    int[] whole = new int[parts.limit() + 1];
    for (int index = 0; index < parts.limit(); index++) {
      whole[index] = -parts.get(index);
      clauses.demand(-gate, parts.get(index));
    }
    whole[parts.limit()] = gate;
    clauses.demand(whole);
    return gate;
  }

  private int write(Variable variable, int tick) {
    return switch (variable.kind()) {
      case INPUT -> writeInput(variable, tick);
      case PULSE -> writePulse(variable, tick);
      case EQUATION -> literal(network.equations().get(variable), tick);
      case LATCH -> writeLatch(network.latches().get(variable), tick);
    };
  }

  private int writeInput(Variable input, int tick) {
    if (isGiven(tick)) {
      return constant(firstValues.test(input));
    }
    int now = clauses.fresh();
    if (from == From.GIVEN) {
      demandAlike(now, literal(input, tick - 1), -tick(tick).reported);
    }
    return now;
  }

  private int writeLatch(Latch latch, int tick) {
    if (tick > 0) {
      demandSettled(latch, tick - 1);
      int before = literal(latch.variable(), tick - 1);
      int stays = either(literal(latch.set(), tick - 1), before);
      int now = both(stays, -literal(latch.reset(), tick - 1));
      if (from == From.GIVEN) {
        demandAlike(now, before, tick(tick).reported);
      }
      return now;
    }
    if (from == From.ANYWHERE) {
      return clauses.fresh();
    }
    return constant(isGiven(tick) ? firstValues.test(latch.variable()) : latch.initially());
  }

  /** That two literals have the same value where a third holds. */
  private void demandAlike(int one, int other, int where) {
    clauses.demand(-where, -one, other);
    clauses.demand(-where, one, -other);
  }

  private boolean isGiven(int tick) {
    return tick == 0 && from == From.GIVEN;
  }

  private int constant(boolean value) {
    return value ? yes : -yes;
  }

  /** When a pulse comes, the latch would have stayed as it is without it. */
  private void demandSettled(Latch latch, int tick) {
    int disturbed = tick(tick).disturbed;
    int now = literal(latch.variable(), tick);
    int set = literal(latch.set(), tick, false);
    int reset = literal(latch.reset(), tick, false);
    clauses.demand(-disturbed, -reset, -now);
    clauses.demand(-disturbed, -set, reset, now);
  }

  private int writePulse(Variable pulse, int tick) {
    int literal = clauses.fresh();
    Tick written = tick(tick);
    written.literals.put(pulse, literal);
    clauses.demand(-literal, written.disturbed);
    network
        .timerEndedBy(pulse)
        .ifPresent(timer -> clauses.demand(-literal, literal(timer.running(), tick)));
    network
        .comesWith(pulse)
        .ifPresentOrElse(
            group -> clauses.demand(-literal, comesOf(group, written)),
            () -> comesAlone(literal, written));
    return literal;
  }

  private int comesOf(Set<Variable> group, Tick tick) {
    return tick.groups.computeIfAbsent(
        group,
        any -> {
          int comes = clauses.fresh();
          comesAlone(comes, tick);
          return comes;
        });
  }

  /**
   * One thing happens at a time (interlocking sheet, P9): two requests are never granted at once.
   */
  private void comesAlone(int literal, Tick tick) {
    clauses.demand(-literal, -tick.pulsed);
    tick.pulsed = either(tick.pulsed, literal);
  }

  private Tick tick(int tick) {
    while (ticks.size() <= tick) {
      ticks.add(new Tick(clauses.fresh(), clauses.fresh(), -yes));
    }
    return ticks.get(tick);
  }
}
