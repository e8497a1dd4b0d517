package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Property;
import tappet.proof.Property.Kind;
import tappet.proof.Watched;

/**
 * Sets watches on a network and says what must always hold: from the track plan and the physics of
 * trains (interlocking sheet, F.1), whatever the rules are.
 */
public final class SafetyProperties {

  private final Layout layout;
  private final TrackPlan plan;
  private final Plant plant;
  private final NetworkBuilder network;
  private final Authorities authorities;
  private final LineWatch lines;
  private final CrossingDemands crossings;
  private final List<Property> properties = new ArrayList<>();
  private final Set<String> assumptions = new LinkedHashSet<>();

  private SafetyProperties(Layout layout, Network network) {
    this.layout = layout;
    this.plan = new TrackPlan(layout);
    this.plant = new Plant(layout, network);
    this.network = NetworkBuilder.extending(network);
    this.authorities = new Authorities(plan, plant, this.network);
    this.lines = new LineWatch(authorities, plant, this.network);
    this.crossings = new CrossingDemands(plan, plant, authorities, lines, this.network);
  }

  /** A network under watch, with everything that must hold of it on this layout. */
  public static Watched of(Layout layout, Network network) {
    SafetyProperties safety = new SafetyProperties(layout, network);
    safety.demandAll();
    safety.assumeAll();
    Network watched = safety.network.build();
    return new Watched(
        watched,
        safety.properties,
        new DayOnTheRailroad(safety.plan, watched),
        List.copyOf(safety.assumptions));
  }

  private void demandAll() {
    signals().forEach(signal -> of(signal).all().forEach(this::demand));
    authorities.all().forEach(this::demandOneAuthority);
    lines.demands().forEach(this::demand);
    new PeopleDemands(layout, plant, authorities).all().forEach(this::demand);
    new SwitchDemands(layout, plant, authorities).all().forEach(this::demand);
    new OpeningDemands(layout, plant, authorities, lines).all().forEach(this::demand);
    crossings.all().forEach(this::demand);
    new StandstillDemands(layout, signals(), plant, network).all().forEach(this::demand);
  }

  private List<Signal> signals() {
    return layout.signals().values().stream().filter(any -> any.repeats().isEmpty()).toList();
  }

  private SignalDemands of(Signal signal) {
    return new SignalDemands(signal, layout, plant, authorities);
  }

  private void demandOneAuthority(Authority wanted) {
    List<Expression> others = new ArrayList<>();
    for (Authority other : authorities.all()) {
      if (other != wanted) {
        shared(wanted.way, other.way).forEach(section -> others.add(other.reaches(section)));
      }
    }
    demand(
        new Demand(
            Kind.ONE_AUTHORITY,
            "nobody else has authority over a section of " + wanted.way.id() + " when it is given",
            is(wanted.given),
            not(any(others))));
  }

  private static List<String> shared(Way one, Way other) {
    return one.sections().stream().filter(other.sections()::contains).toList();
  }

  private void demand(Demand demand) {
    Variable premise =
        network.equation("premise of '" + demand.words() + "'", Words.through(), demand.premise());
    Variable holds =
        network.equation(
            "property '" + demand.words() + "'",
            Words.because(demand.words(), "not so: " + demand.words()),
            any(not(premise), demand.consequence()));
    properties.add(new Property(demand.kind(), demand.words(), holds, premise));
  }

  /** What is assumed of every railroad, by the numbers of the interlocking sheet, F.3. */
  private static final List<String> OF_ALL_RAILROADS =
      List.of(
          "P1, P10: a train comes to a signal over the track that leads to it, and is not lifted",
          "P4: a train passes no absolute signal at Stop, and an automatic one only by sight",
          "P6: what a detector says comes in time to hold a train back",
          "P9: one thing happens at a time; the box sees to that",
          "S14: a train is lost by a detector for less than the time for loss of shunt, if at all");

  private void assumeAll() {
    assumptions.addAll(OF_ALL_RAILROADS);
    assumptions.add(
        layout
            .trains()
            .stopWithin()
            .map(
                time ->
                    "P4: a train stops within "
                        + time.toMillis() / 1000.0
                        + " s of seeing that it must")
            .orElse(
                "P4: a train that has seen a signal passes it or stops within the release time of"
                    + " its route (say 'trains: {stop within: …}' in the layout to have it proven)"));
    if (layout.trains().slowOver().isEmpty()) {
      assumptions.add(
          "P4: trains may take every leg of a switch at any speed (say 'trains: {slow over: …}' in"
              + " the layout where they may not)");
    }
    signals().forEach(signal -> of(signal).unknownAspects().forEach(this::assumeUnknown));
    assumeWhatIsNotDetected();
    assumptions.addAll(crossings.assumptions());
  }

  private void assumeUnknown(String aspect) {
    assumptions.add(
        "aspect '"
            + aspect
            + "' is in no rule book known here: nothing is proved of what it promises");
  }

  private void assumeWhatIsNotDetected() {
    layout.switches().values().stream()
        .filter(toe -> !toe.isDetected())
        .forEach(
            toe ->
                assumptions.add(
                    "P6: switch "
                        + toe.id()
                        + " has no detection: it is taken to lie where it was sent"));
  }
}
