package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * What is shown to be equivalent is: a search through every state of both networks at once finds no
 * difference. To try other seeds: {@code mvn -pl rules -am test -Dtest='EquivalenceTest'
 * -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class EquivalenceTest {

  private static final int NETWORKS = 100;
  private static final int EDITS = 6;
  private static final int TICKS = 6;

  /** So few orders that much of a network does not matter to them. */
  private static final int ORDERS_MAX = 3;

  /** 1 unless the command line says otherwise: the build is the same each time. */
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  @Test
  void whatIsShownToBeEquivalentIsNowhereDifferent() {
    int shown = 0;
    int alike = 0;
    for (long seed = FIRST_SEED; seed < FIRST_SEED + NETWORKS; seed++) {
      Random random = new Random(seed);
      Network network = TimedNetwork.of(seed);
      List<Variable> orders = someEquations(network, random);
      for (int edit = 0; edit < EDITS; edit++) {
        Network edited = edited(network, random);
        boolean isShown = isShown(network, edited, orders);
        Optional<Integer> difference =
            new TwinSearch(network, edited, orders).firstDifference(TICKS);
        String where = "seed " + seed + ", edit " + edit + ", tick " + difference;
        assertFalse(isShown && difference.isPresent(), where);
        shown += isShown ? 1 : 0;
        alike += difference.isEmpty() ? 1 : 0;
      }
    }
    String found =
        "%d of %d edits that make no difference are shown to make none, of %d; seeds from %d"
            .formatted(shown, alike, NETWORKS * EDITS, FIRST_SEED);
    System.out.println("EquivalenceTest: " + found);
    assertTrue(shown > alike / 2 && alike < NETWORKS * EDITS, found);
  }

  private static List<Variable> someEquations(Network network, Random random) {
    List<Variable> equations = new ArrayList<>(network.equations().keySet());
    Collections.shuffle(equations, random);
    return equations.subList(0, Math.min(ORDERS_MAX, equations.size()));
  }

  private static boolean isShown(Network network, Network edited, List<Variable> orders) {
    List<String> names = orders.stream().map(Variable::name).toList();
    return new Equivalence(network, List.of()).isShown(edited, names::contains);
  }

  /** One equation, or one latch, reads otherwise: sometimes it means the same. */
  private static Network edited(Network network, Random random) {
    List<Variable> all = new ArrayList<>(network.equations().keySet());
    all.addAll(network.latches().keySet());
    Variable edited = all.get(random.nextInt(all.size()));
    if (network.equations().containsKey(edited)) {
      Expression meaning = edited(network.equations().get(edited), random);
      return Altered.with(network, Map.of(edited, meaning), Map.of());
    }
    Latch latch = network.latches().get(edited);
    boolean set = random.nextBoolean();
    Latch altered =
        new Latch(
            edited,
            set ? edited(latch.set(), random) : latch.set(),
            set ? latch.reset() : edited(latch.reset(), random),
            latch.initially());
    return Altered.with(network, Map.of(), Map.of(edited, altered));
  }

  private static Expression edited(Expression expression, Random random) {
    if (expression instanceof Expression.All all && !all.parts().isEmpty()) {
      return new Expression.All(edited(all.parts(), random));
    }
    if (expression instanceof Expression.Any any && !any.parts().isEmpty()) {
      return new Expression.Any(edited(any.parts(), random));
    }
    return random.nextBoolean()
        ? new Expression.Not(new Expression.Not(expression))
        : new Expression.Not(expression);
  }

  private static List<Expression> edited(List<Expression> parts, Random random) {
    List<Expression> edited = new ArrayList<>(parts);
    int part = random.nextInt(parts.size());
    switch (random.nextInt(3)) {
      case 0 -> edited.remove(part);
      case 1 -> edited.add(parts.get(part));
      default -> edited.set(part, edited(parts.get(part), random));
    }
    return edited;
  }

  /** One lamp that two pulses light and darken, and a time that runs while it is lit. */
  private static final class Lamp {

    final NetworkBuilder network = new NetworkBuilder();
    final Variable on = network.pulse("on", Words.through());
    final Variable off = network.pulse("off", Words.through());
    final Variable lit = network.latch("lit", Words.through());
    final Variable dark = network.latchInitiallyTrue("dark", Words.through());
    private final Duration time;

    Lamp(Duration time) {
      this.time = time;
    }

    Lamp() {
      this(Duration.ofSeconds(1));
    }

    Lamp order(String name, Expression meaning) {
      network.equation(name, Words.through(), meaning);
      return this;
    }

    Network litBy(Expression set) {
      network.define(lit, set, is(off));
      network.define(dark, is(off), is(on));
      order("shines long", is(network.timer("a while", Words.through(), lit, time)));
      return network.build();
    }

    Network build() {
      return litBy(is(on));
    }
  }

  private static boolean isShown(Network one, Network other, String order, Lemma... lemmas) {
    return new Equivalence(one, List.of(lemmas)).isShown(other, order::equals);
  }

  @Test
  void whatAlwaysHoldsOfTheOriginalIsMadeUseOf() {
    Lamp plain = new Lamp();
    Network one = plain.order("shine", is(plain.lit)).build();
    Lamp twice = new Lamp();
    Network other = twice.order("shine", all(is(twice.lit), not(twice.dark))).build();
    Lemma oneOfTwo = Lemma.of(plain.lit, false, plain.dark, false);
    assertFalse(isShown(one, other, "shine"));
    assertTrue(isShown(one, other, "shine", oneOfTwo));
  }

  @Test
  void anotherTimeMattersOnlyToWhatWaitsForIt() {
    Lamp brief = new Lamp(Duration.ofSeconds(1));
    Network one = brief.order("shine", is(brief.lit)).build();
    Lamp lasting = new Lamp(Duration.ofSeconds(2));
    Network other = lasting.order("shine", is(lasting.lit)).build();
    assertFalse(isShown(one, other, "shines long"));
    assertTrue(isShown(one, other, "shine"));
  }

  @Test
  void orderThatOneAloneKnowsMustNeverBeGiven() {
    Network without = new Lamp().build();
    Network never = new Lamp().order("flash", never()).build();
    Lamp lamp = new Lamp();
    Network sometimes = lamp.order("flash", is(lamp.lit)).build();
    assertTrue(isShown(without, never, "flash"));
    assertTrue(isShown(never, without, "flash"));
    assertFalse(isShown(without, sometimes, "flash"));
    assertFalse(isShown(sometimes, without, "flash"));
  }

  @Test
  void whatBeginsOtherwiseIsNotEqual() {
    Lamp lamp = new Lamp();
    Network one = lamp.order("shine", is(lamp.lit)).build();
    NetworkBuilder builder = new NetworkBuilder();
    Variable on = builder.pulse("on", Words.through());
    Variable off = builder.pulse("off", Words.through());
    Variable lit = builder.latchInitiallyTrue("lit", Words.through());
    builder.define(lit, is(on), is(off));
    builder.equation("shine", Words.through(), is(lit));
    assertFalse(isShown(one, builder.build(), "shine"));
  }

  @Test
  void whatOneAloneHearsMattersWhereSomethingComesOfIt() {
    Lamp lamp = new Lamp();
    Network one = lamp.order("shine", is(lamp.lit)).build();
    Lamp touched = new Lamp();
    Variable touch = touched.network.pulse("touch", Words.through());
    touched.order("shine", is(touched.lit));
    assertFalse(isShown(one, touched.litBy(any(is(touched.on), is(touch))), "shine"));

    Lamp counted = new Lamp();
    Variable ignored = counted.network.pulse("touch", Words.through());
    Variable memory = counted.network.latch("touched", Words.through());
    counted.network.define(memory, is(ignored), never());
    counted.order("shine", is(counted.lit));
    assertTrue(isShown(one, counted.build(), "shine"));
  }

  @Test
  void networksThatMayHearOtherThingsTogetherAreNotCompared() {
    Lamp lamp = new Lamp();
    lamp.network.together(List.of(lamp.on, lamp.off));
    Network one = lamp.order("shine", is(lamp.lit)).build();
    Lamp other = new Lamp();
    other.network.together(List.of(other.on, other.network.pulse("touch", Words.through())));
    assertFalse(isShown(one, other.order("shine", is(other.lit)).build(), "shine"));
  }
}
