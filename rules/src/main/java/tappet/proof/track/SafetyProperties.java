package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.layout.GradeCrossing;
import tappet.layout.Layout;
import tappet.layout.Opening;
import tappet.layout.Signal;
import tappet.layout.Switch;
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
  private final Plant plant;
  private final NetworkBuilder network;
  private final Ways ways;
  private final Map<Way, Authority> authorities = new LinkedHashMap<>();
  private final List<Property> properties = new ArrayList<>();
  private final Set<String> assumptions = new LinkedHashSet<>();

  private SafetyProperties(Layout layout, Network network) {
    TrackPlan plan = new TrackPlan(layout);
    this.layout = layout;
    this.plant = new Plant(layout, network);
    this.network = NetworkBuilder.extending(network);
    this.ways = new Ways(plan);
    ways.all().forEach(way -> authorities.put(way, new Authority(way, plant, this.network)));
    for (Authority authority : authorities.values()) {
      Expression nobody =
          Approach.nobodyComesTo(authority.way.from(), plan, plant, authorities.values());
      authority.define(nobody, plant, this.network);
    }
  }

  /** A network under watch, with everything that must hold of it on this layout. */
  public static Watched of(Layout layout, Network network) {
    SafetyProperties safety = new SafetyProperties(layout, network);
    safety.demandAll();
    Network watched = safety.network.build();
    return new Watched(
        watched,
        safety.properties,
        new DayOnTheRailroad(new TrackPlan(layout), watched),
        List.copyOf(safety.assumptions));
  }

  /** What is assumed of every railroad, by the numbers of the interlocking sheet, F.3. */
  private static final List<String> OF_ALL_RAILROADS =
      List.of(
          "P1, P10: a train comes to a signal over the track that leads to it, and is not lifted",
          "P4: a train passes no absolute signal at Stop, and an automatic one only by sight",
          "P6: what a detector says comes in time to hold a train back",
          "P9: one thing happens at a time; the box sees to that",
          "P4: a train that has seen a signal passes it or stops within the release time of its route");

  private void demandAll() {
    assumptions.addAll(OF_ALL_RAILROADS);
    signals().forEach(this::demandClearWay);
    authorities.values().forEach(this::demandOneAuthority);
    new LineWatch(ways, authorities, plant, network).demands().forEach(this::demand);
    plant.motors().forEach(this::demandOfMotor);
    layout.switches().values().stream()
        .filter(toe -> plant.releases(toe.id()).isPresent())
        .forEach(this::demandOfLock);
    signals().forEach(this::demandAspects);
    signals().forEach(this::demandNobodyAtWork);
    layout.lineside().openings().values().forEach(this::demandOfOpening);
    layout.lineside().crossings().values().forEach(this::demandWarning);
    demandNothingAtStart();
    demandNothingInEmergency();
    assumeWhatIsNotDetected();
  }

  private List<Signal> signals() {
    return layout.signals().values().stream().filter(any -> any.repeats().isEmpty()).toList();
  }

  private void demandClearWay(Signal signal) {
    List<Expression> good = new ArrayList<>();
    for (Way way : ways.from(signal.id())) {
      List<String> sections = way.sections();
      String last = sections.get(sections.size() - 1);
      good.add(
          all(
              is(authorities.get(way).given),
              plant.clear(sections.subList(0, sections.size() - 1)),
              any(plant.clear(last), callsOn(signal))));
    }
    demand(
        Kind.CLEAR_WAY,
        "signal " + signal.id() + " proceeds only over a detected, clear way",
        is(plant.proceeds(signal.id())),
        any(good));
  }

  /** It shows an aspect by which a train looks out for others on its way. */
  private Expression callsOn(Signal signal) {
    return any(
        plant.aspects(signal).stream()
            .filter(
                aspect -> AspectMeaning.of(aspect).filter(AspectMeaning::isRestricting).isPresent())
            .<Expression>map(aspect -> is(plant.shows(signal.id(), aspect).orElseThrow()))
            .toList());
  }

  private void demandOneAuthority(Authority wanted) {
    List<Expression> others = new ArrayList<>();
    for (Authority other : authorities.values()) {
      if (other != wanted) {
        shared(wanted.way, other.way).forEach(section -> others.add(other.reaches(section)));
      }
    }
    demand(
        Kind.ONE_AUTHORITY,
        "nobody else has authority over a section of " + wanted.way.id() + " when it is given",
        is(wanted.given),
        not(any(others)));
  }

  private static List<String> shared(Way one, Way other) {
    return one.sections().stream().filter(other.sections()::contains).toList();
  }

  private void demandOfMotor(String number) {
    List<Expression> clear = new ArrayList<>();
    List<Expression> authority = new ArrayList<>();
    for (Switch end : plant.ends(number)) {
      clear.add(plant.clear(end.section()));
      authoritiesOver(end).forEach(over -> authority.add(over.reaches(end.section())));
    }
    demand(
        Kind.SWITCH_UNDER_TRAIN,
        "switch " + number + " is sent only while its section is clear",
        plant.sent(number),
        all(clear));
    demand(
        Kind.SWITCH_UNDER_AUTHORITY,
        "switch " + number + " is not moved while a train may come over it",
        plant.moves(number),
        not(any(authority)));
    demand(
        Kind.PEOPLE,
        "switch " + number + " is not moved while it is blocked or its section is flagged",
        plant.moves(number),
        not(any(plant.ends(number).stream().flatMap(this::handsOn).toList())));
  }

  private List<Authority> authoritiesOver(Switch toe) {
    return authorities.values().stream()
        .filter(
            authority ->
                authority.way.tracks().stream()
                    .flatMap(track -> track.leg().stream())
                    .anyMatch(leg -> leg.switchId().equals(toe.id())))
        .toList();
  }

  private Stream<Expression> handsOn(Switch toe) {
    return Stream.of(
            "switch " + toe.id() + ": blocked",
            "section " + toe.section() + ": blocked",
            "section " + toe.section() + ": flagged")
        .map(plant::named)
        .map(Expression::is);
  }

  private void demandOfLock(Switch toe) {
    List<Expression> authority = new ArrayList<>();
    for (Switch end : plant.ends(toe.number())) {
      authoritiesOver(end).forEach(over -> authority.add(over.awaitedIn(end.section(), plant)));
    }
    demand(
        Kind.LOCK_UNDER_AUTHORITY,
        "the electric lock of switch " + toe.id() + " is not released before a train",
        is(plant.releases(toe.id()).orElseThrow()),
        not(any(authority)));
  }

  private void demandAspects(Signal signal) {
    for (String aspect : plant.aspects(signal)) {
      Optional<AspectMeaning> meaning = AspectMeaning.of(aspect);
      if (meaning.isEmpty()) {
        assumptions.add(
            "aspect '"
                + aspect
                + "' is in no rule book known here: nothing is proved of what it promises");
      } else if (meaning.get().beyond().isPresent()) {
        demandBeyond(signal, aspect, meaning.get().beyond().get());
      }
    }
  }

  private void demandBeyond(Signal signal, String aspect, Speed promised) {
    List<Expression> kept = new ArrayList<>();
    for (Way way : ways.from(signal.id())) {
      way.next()
          .ifPresent(
              next -> kept.add(all(is(authorities.get(way).given), any(allowing(next, promised)))));
    }
    demand(
        Kind.ASPECT_BEYOND,
        "signal " + signal.id() + " shows " + aspect + " only before a signal that allows it",
        is(plant.shows(signal.id(), aspect).orElseThrow()),
        any(kept));
  }

  private List<Expression> allowing(Signal next, Speed promised) {
    return plant.aspects(next).stream()
        .filter(
            aspect ->
                AspectMeaning.of(aspect).map(meaning -> meaning.allows(promised)).orElse(true))
        .<Expression>map(aspect -> is(plant.shows(next.id(), aspect).orElseThrow()))
        .toList();
  }

  private void demandNobodyAtWork(Signal signal) {
    List<Expression> atWork = new ArrayList<>();
    atWork.add(is(plant.named("signal " + signal.id() + ": blocked")));
    for (Way way : ways.from(signal.id())) {
      List<Expression> people = new ArrayList<>();
      way.sections().forEach(section -> people.addAll(peopleIn(section)));
      atWork.add(all(is(authorities.get(way).given), any(people)));
    }
    demand(
        Kind.PEOPLE,
        "signal " + signal.id() + " leads nobody to people at work",
        is(plant.proceeds(signal.id())),
        not(any(atWork)));
  }

  private List<Expression> peopleIn(String section) {
    return Stream.of("under permit", "blocked", "flagged")
        .<Expression>map(how -> is(plant.named("section " + section + ": " + how)))
        .toList();
  }

  private void demandOfOpening(Opening opening) {
    List<Expression> given = new ArrayList<>();
    List<Expression> reached = new ArrayList<>();
    for (Authority authority : authorities.values()) {
      for (String section : shared(authority.way.sections(), opening.sections())) {
        given.add(is(authority.given));
        reached.add(authority.reaches(section));
      }
    }
    List<Expression> safe = new ArrayList<>();
    safe.add(plant.isDetected(opening.key(), "closed", "open"));
    opening
        .lock()
        .ifPresent(lock -> safe.add(plant.isDetected(opening.key(), "locked", "unlocked")));
    demand(
        Kind.OPENING,
        "no signal leads over " + opening.key() + " unless it is closed and locked",
        any(given),
        all(safe));
    plant
        .find(opening.key() + ": sent unlocked")
        .ifPresent(
            unlocked ->
                demand(
                    Kind.OPENING,
                    opening.key() + " is not unlocked while a train may come over it",
                    is(unlocked),
                    all(not(any(reached)), plant.clear(opening.sections()))));
  }

  private static List<String> shared(List<String> some, List<String> others) {
    return some.stream().filter(others::contains).toList();
  }

  private void demandWarning(GradeCrossing crossing) {
    plant
        .find(crossing.key() + ": warns")
        .ifPresent(
            warns ->
                demand(
                    Kind.ROAD,
                    crossing.key() + " warns while a train is on it",
                    plant.occupied(crossing.island()),
                    is(warns)));
  }

  private void demandNothingAtStart() {
    Variable early =
        network.latchInitiallyTrue(
            "watch: start", Words.fact("the time since the start runs", "the start is over"));
    network.define(early, never(), is(plant.named("start: time has run")));
    demandNothing(Kind.START, "before the time since the start has run", is(early));
  }

  private void demandNothingInEmergency() {
    for (String kind : List.of("emergency off", "emergency stop")) {
      Variable stands = network.latch("watch: " + kind, Words.fact(kind + " stands", "no " + kind));
      network.define(
          stands, is(plant.named(kind + ": called")), is(plant.named(kind + ": cleared")));
      demandNothing(Kind.EMERGENCY, "while an " + kind + " stands", is(stands));
    }
  }

  private void demandNothing(Kind kind, String when, Expression premise) {
    signals()
        .forEach(
            signal ->
                demand(
                    kind,
                    "signal " + signal.id() + " is at Stop " + when,
                    premise,
                    not(plant.proceeds(signal.id()))));
    plant
        .motors()
        .forEach(
            number ->
                demand(
                    kind,
                    "switch " + number + " is not moved " + when,
                    premise,
                    not(plant.moves(number))));
    layout
        .switches()
        .keySet()
        .forEach(
            id ->
                plant
                    .releases(id)
                    .ifPresent(
                        released ->
                            demand(
                                kind,
                                "the lock of switch " + id + " is not released " + when,
                                premise,
                                not(released))));
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

  private void demand(Kind kind, String words, Expression premise, Expression consequence) {
    demand(new Demand(kind, words, premise, consequence));
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
}
