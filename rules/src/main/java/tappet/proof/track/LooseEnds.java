package tappet.proof.track;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Reach;
import tappet.proof.Watched;

/**
 * What a layout and its rules leave open: signals that never clear over a way or never show an
 * aspect (interlocking sheet, F.2 L1), track that no signal protects, and signals that a train is
 * warned of too late to stop (49 CFR 236.24, spacing of signals). Like the properties it knows the
 * layout and the network's names, and no rule.
 *
 * <p>Some of it is asked of the network by variables of its own, so the order is: {@link #of}, then
 * a proof of {@link #watched}, then {@link #found}.
 */
public final class LooseEnds {

  /** What is open unless a variable can be true, or unless it never is. */
  private record Question(LooseEnd open, Variable asked, Reach good) {}

  private final Layout layout;
  private final Watched watched;
  private final Plant plant;
  private final Ways ways;
  private final List<Question> tooLate = new ArrayList<>();

  private LooseEnds(Layout layout, Watched watched, Optional<Double> stoppingMetres) {
    this.layout = layout;
    this.plant = new Plant(layout, watched.network());
    this.ways = new Ways(new TrackPlan(layout));
    NetworkBuilder network = NetworkBuilder.extending(watched.network());
    stoppingMetres.ifPresent(
        metres ->
            new Warnings(layout, ways, plant, metres)
                .tooLate()
                .forEach(unwarned -> ask(unwarned, network)));
    this.watched =
        new Watched(
            network.build(), watched.properties(), watched.happenings(), watched.assumptions());
  }

  /**
   * Asks what a layout and its rules leave open.
   *
   * @param watched the network under the watch of {@link SafetyProperties} for this layout
   * @param stoppingMetres in how many metres a train stops, above 0; empty where the owner does not
   *     say, and then nothing is said of warnings
   */
  public static LooseEnds of(Layout layout, Watched watched, Optional<Double> stoppingMetres) {
    return new LooseEnds(layout, watched, stoppingMetres);
  }

  /** The network with everything that is asked of it, and the same properties as before. */
  public Watched watched() {
    return watched;
  }

  /**
   * What is open, signal by signal and then section by section.
   *
   * @param reach whether a variable of {@link #watched} can ever be true
   */
  public List<LooseEnd> found(Function<Variable, Reach> reach) {
    List<LooseEnd> found = new ArrayList<>();
    layout.signals().values().stream()
        .filter(signal -> signal.repeats().isEmpty())
        .forEach(signal -> found.addAll(ofSignal(signal, reach)));
    tooLate.forEach(question -> found.addAll(answer(question, reach)));
    found.addAll(unprotected());
    return List.copyOf(found);
  }

  private List<LooseEnd> ofSignal(Signal signal, Function<Variable, Reach> reach) {
    List<LooseEnd> never =
        answer(neverTrue(signal, "never clears", plant.proceeds(signal.id())), reach);
    if (!never.isEmpty()) {
      return never;
    }
    List<LooseEnd> found = new ArrayList<>();
    for (Way way : ways.from(signal.id())) {
      Variable given = plant.named("authority " + way.id() + ": given");
      found.addAll(answer(neverTrue(signal, "never clears over " + way.id(), given), reach));
    }
    signal.aspects().stream()
        .filter(aspect -> !aspect.equals(Signal.STOP))
        .forEach(aspect -> found.addAll(ofAspect(signal, aspect, reach)));
    return found;
  }

  private List<LooseEnd> ofAspect(Signal signal, String aspect, Function<Variable, Reach> reach) {
    String what = "never shows " + aspect;
    return plant
        .shows(signal.id(), aspect)
        .map(shows -> answer(neverTrue(signal, what, shows), reach))
        .orElseGet(() -> List.of(open(signal, what)));
  }

  private static Question neverTrue(Signal signal, String what, Variable asked) {
    return new Question(open(signal, what), asked, Reach.CAN);
  }

  private static LooseEnd open(Signal signal, String what) {
    String device = "signal " + signal.id();
    return new LooseEnd(device, device + " " + what, true);
  }

  private static List<LooseEnd> answer(Question question, Function<Variable, Reach> reach) {
    Reach answer = reach.apply(question.asked());
    LooseEnd open = question.open();
    return answer == question.good()
        ? List.of()
        : List.of(new LooseEnd(open.device(), open.words(), answer != Reach.NOT_FOUND));
  }

  private void ask(Warnings.Unwarned unwarned, NetworkBuilder network) {
    Variable asked =
        network.equation(
            "question: " + unwarned.words(),
            Words.because(unwarned.words(), "not so: " + unwarned.words()),
            unwarned.when());
    LooseEnd open = new LooseEnd("signal " + unwarned.of().id(), unwarned.words(), true);
    tooLate.add(new Question(open, asked, Reach.NEVER));
  }

  private List<LooseEnd> unprotected() {
    Set<String> ledInto =
        ways.all().stream().flatMap(way -> way.sections().stream()).collect(Collectors.toSet());
    return layout.sections().keySet().stream()
        .filter(section -> !ledInto.contains(section))
        .map(section -> "section " + section)
        .map(device -> new LooseEnd(device, "no signal protects " + device, true))
        .toList();
  }
}
