package tappet.proof;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;
import tappet.proof.track.Orders;
import tappet.proof.track.SafetyProperties;

/**
 * Networks with a fault on trial beside the sound one. The lemmas of the sound one are a start: on
 * a faulty network only those are used that it upholds itself.
 */
public final class Trial {

  /** What is found of a faulty network. */
  public sealed interface Outcome {

    /** It gives the same orders as the sound one, always. */
    record Equivalent() implements Outcome {}

    /** It is the sound one but for its times, and no property is about those. */
    record OtherTimes() implements Outcome {}

    /** It gives the same orders as the sound one in which nobody gives some commands. */
    record LacksCommands(List<String> commands) implements Outcome {}

    /** The network itself was run through a story that breaks a property. */
    record Disproven(String property, String story) implements Outcome {}

    /** It gives other orders, and breaks no property. */
    record Safe() implements Outcome {}

    /** Neither proof nor story was found for some properties. */
    record Unproven(List<String> properties) implements Outcome {}
  }

  /** More ticks to look back have not been seen to help. */
  private static final int INDUCTION_MAX = 2;

  private final Layout layout;
  private final int ticksMax;
  private final Watched sound;
  private final List<Lemma> lemmas;
  private final Equivalence equivalence;
  private final Set<String> broken;

  /**
   * @param network the sound one
   * @param ticksMax a story of more ticks is not looked for
   */
  public Trial(Layout layout, Network network, int ticksMax) {
    this.layout = layout;
    this.ticksMax = ticksMax;
    sound = SafetyProperties.of(layout, network);
    lemmas = Equivalence.lemmas(sound);
    equivalence = new Equivalence(sound.network(), lemmas);
    broken =
        unproven(sound, lemmas).stream()
            .map(Property::words)
            .collect(Collectors.toUnmodifiableSet());
  }

  /** Properties that the network which is taken to be sound is not proven to have. */
  public Set<String> broken() {
    return broken;
  }

  public Outcome of(Network network) {
    if (equivalence.isShown(network, Orders::isOne)) {
      return new Outcome.Equivalent();
    }
    Watched faulty = SafetyProperties.of(layout, network);
    if (meanings(faulty).equals(meanings(sound))) {
      return new Outcome.OtherTimes();
    }
    Map<Variable, Boolean> neverGiven = commandsUnknownTo(network);
    if (!neverGiven.isEmpty() && isSoundWithout(neverGiven, network)) {
      return new Outcome.LacksCommands(
          neverGiven.keySet().stream().map(Variable::name).sorted().toList());
    }
    List<Lemma> upheld = Equivalence.upheld(faulty, known(faulty.network()));
    List<Property> suspects = suspects(faulty, upheld);
    if (suspects.isEmpty()) {
      return new Outcome.Safe();
    }
    Optional<Outcome> disproven = story(faulty, suspects, upheld);
    if (disproven.isPresent()) {
      return disproven.get();
    }
    List<Property> left = suspects(faulty, Equivalence.lemmas(faulty));
    return left.isEmpty()
        ? new Outcome.Safe()
        : new Outcome.Unproven(left.stream().map(Property::words).toList());
  }

  /** What each variable of a network under watch means, times left aside. */
  private static Map<String, String> meanings(Watched watched) {
    Map<String, String> meanings = new HashMap<>();
    Network network = watched.network();
    network.variables().forEach(any -> meanings.put(any.name(), any.kind().toString()));
    network.equations().forEach((one, meaning) -> meanings.put(one.name(), meaning.toString()));
    network.latches().forEach((one, latch) -> meanings.put(one.name(), latch.toString()));
    return meanings;
  }

  private Map<Variable, Boolean> commandsUnknownTo(Network network) {
    Set<Variable> times =
        sound.network().timers().stream().map(Timer::runsOut).collect(Collectors.toSet());
    return sound.network().variables().stream()
        .filter(any -> any.kind() == Variable.Kind.PULSE && !times.contains(any))
        .filter(command -> network.find(command.name()).isEmpty())
        .collect(Collectors.toMap(Function.identity(), any -> false));
  }

  /** What always holds of the sound network holds of it where less happens to it. */
  private boolean isSoundWithout(Map<Variable, Boolean> neverGiven, Network network) {
    return new Equivalence(Altered.tied(sound.network(), neverGiven), lemmas)
        .isShown(network, Orders::isOne);
  }

  /** The lemmas of the sound network about variables of another. */
  private List<Lemma> known(Network network) {
    return lemmas.stream()
        .flatMap(lemma -> Lemma.read(lemma.toString(), network).stream())
        .filter(lemma -> lemma.holdsAtStart(network))
        .toList();
  }

  /** What is not proven, without what the sound network is not proven to have either. */
  private List<Property> suspects(Watched watched, List<Lemma> upheld) {
    return unproven(watched, upheld).stream()
        .filter(property -> !broken.contains(property.words()))
        .toList();
  }

  private static List<Property> unproven(Watched watched, List<Lemma> upheld) {
    LemmaIndex index = new LemmaIndex(upheld);
    return watched.properties().parallelStream()
        .filter(property -> !isProven(property, watched.network(), index))
        .toList();
  }

  private static boolean isProven(Property property, Network network, LemmaIndex index) {
    for (int ticks = 0; ticks <= INDUCTION_MAX; ticks++) {
      if (isImpossible(property, ticks, network, index, Unrolling.From.ANYWHERE)) {
        return holdsFromStart(property, ticks, network, index);
      }
    }
    return false;
  }

  private static boolean holdsFromStart(
      Property property, int ticks, Network network, LemmaIndex index) {
    for (int tick = 0; tick < ticks; tick++) {
      if (!isImpossible(property, tick, network, index, Unrolling.From.START)) {
        return false;
      }
    }
    return true;
  }

  private static boolean isImpossible(
      Property property, int ticks, Network network, LemmaIndex index, Unrolling.From from) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(network, solver, from);
    solver.demand(-unrolling.literal(property.holds(), ticks));
    for (int before = 0; before < ticks; before++) {
      solver.demand(unrolling.literal(property.holds(), before));
    }
    for (int tick = 0; tick <= ticks; tick++) {
      index.demand(unrolling, solver, tick);
    }
    return solver.search() == Solver.Outcome.IMPOSSIBLE;
  }

  /** A story in which the first of some properties is broken. */
  private Optional<Outcome> story(Watched faulty, List<Property> suspects, List<Lemma> upheld) {
    NetworkBuilder builder = NetworkBuilder.extending(faulty.network());
    List<Expression> parts = new ArrayList<>();
    suspects.forEach(property -> parts.add(is(property.holds())));
    Variable safe = builder.equation("all of it is safe", Words.through(), all(parts));
    Watched watched =
        new Watched(
            builder.build(), faulty.properties(), faulty.happenings(), faulty.assumptions());
    StorySearch search = new StorySearch(watched, upheld);
    return search
        .reaching(safe, false, ticksMax)
        .map(story -> new Outcome.Disproven(broken(story, suspects, search), story.text()));
  }

  private static String broken(Story story, List<Property> suspects, StorySearch search) {
    return suspects.stream()
        .filter(
            property -> search.reaches(story.beginning(), story.moments(), property.holds(), false))
        .map(Property::words)
        .findFirst()
        .orElseThrow();
  }
}
