package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Guard;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Expression;
import tappet.proof.Property.Kind;

/** What a signal must never show: from the ways that lead on from it. */
final class SignalDemands {

  private final Layout layout;
  private final Plant plant;
  private final Signal signal;
  private final List<Authority> authorities;

  SignalDemands(Signal signal, Layout layout, Plant plant, Authorities authorities) {
    this.layout = layout;
    this.plant = plant;
    this.signal = signal;
    this.authorities = authorities.from(signal.id());
  }

  List<Demand> all() {
    List<Demand> demands = new ArrayList<>();
    demands.add(clearWay());
    authorities.forEach(authority -> guards(authority).ifPresent(demands::add));
    for (String aspect : plant.aspects(signal)) {
      AspectMeaning.of(aspect)
          .ifPresent(meaning -> promises(aspect, meaning).forEach(demands::add));
    }
    demands.add(nobodyAtWork());
    return demands;
  }

  /** The aspects of it whose promise is not known. */
  List<String> unknownAspects() {
    return plant.aspects(signal).stream()
        .filter(aspect -> AspectMeaning.of(aspect).isEmpty())
        .toList();
  }

  private Demand clearWay() {
    List<Expression> good = new ArrayList<>();
    for (Authority authority : authorities) {
      List<String> sections = authority.way.sections();
      String last = sections.get(sections.size() - 1);
      good.add(
          Expression.all(
              is(authority.given),
              plant.clear(sections.subList(0, sections.size() - 1)),
              any(plant.clear(last), callsOn())));
    }
    return new Demand(
        Kind.CLEAR_WAY,
        "signal " + signal.id() + " proceeds only over a detected, clear way",
        is(plant.proceeds(signal.id())),
        any(good));
  }

  /** It shows an aspect by which a train looks out for others on its way. */
  private Expression callsOn() {
    return any(
        plant.aspects(signal).stream()
            .filter(
                aspect -> AspectMeaning.of(aspect).filter(AspectMeaning::isRestricting).isPresent())
            .<Expression>map(this::shows)
            .toList());
  }

  private Expression shows(String aspect) {
    return is(plant.shows(signal.id(), aspect).orElseThrow());
  }

  private Optional<Demand> guards(Authority authority) {
    List<Expression> lie = new ArrayList<>();
    for (Guard guard : layout.guards()) {
      if (authority.way.sections().contains(guard.section())) {
        guard.switches().entrySet().stream()
            .filter(toe -> !authority.way.leadsOver(toe.getKey()))
            .forEach(toe -> lie.add(plant.lies(toe.getKey(), toe.getValue())));
      }
    }
    return lie.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Demand(
                Kind.FLANK,
                "what guards " + authority.way.id() + " lies so that it does when it is given",
                is(authority.given),
                Expression.all(lie)));
  }

  private List<Demand> promises(String aspect, AspectMeaning meaning) {
    List<Demand> promises = new ArrayList<>();
    meaning.beyond().ifPresent(speed -> promises.add(beyond(aspect, speed)));
    if (meaning.isFast() && leadsOverSlowLegs()) {
      promises.add(notOverSlowLegs(aspect));
    }
    return promises;
  }

  private Demand beyond(String aspect, Speed promised) {
    List<Expression> kept = new ArrayList<>();
    for (Authority authority : authorities) {
      authority
          .way
          .next()
          .ifPresent(
              next -> kept.add(Expression.all(is(authority.given), any(allowing(next, promised)))));
    }
    return new Demand(
        Kind.ASPECT_BEYOND,
        "signal " + signal.id() + " shows " + aspect + " only before a signal that allows it",
        shows(aspect),
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

  private boolean leadsOverSlowLegs() {
    return authorities.stream().anyMatch(this::isSlow);
  }

  private boolean isSlow(Authority authority) {
    Set<Map.Entry<String, Position>> slow = layout.trains().slowOver().entrySet();
    return authority.way.legs().stream()
        .anyMatch(leg -> slow.contains(Map.entry(leg.switchId(), leg.position())));
  }

  private Demand notOverSlowLegs(String aspect) {
    List<Expression> slow =
        authorities.stream()
            .filter(this::isSlow)
            .<Expression>map(authority -> is(authority.given))
            .toList();
    return new Demand(
        Kind.ASPECT_SPEED,
        "signal " + signal.id() + " shows " + aspect + " only where no leg of its way is slow",
        shows(aspect),
        not(any(slow)));
  }

  private Demand nobodyAtWork() {
    List<Expression> atWork = new ArrayList<>();
    atWork.add(is(plant.named("signal " + signal.id() + ": blocked")));
    for (Authority authority : authorities) {
      List<Expression> people = new ArrayList<>();
      authority.way.sections().forEach(section -> people.addAll(peopleIn(section)));
      atWork.add(Expression.all(is(authority.given), any(people)));
    }
    return new Demand(
        Kind.PEOPLE,
        "signal " + signal.id() + " leads nobody to people at work",
        is(plant.proceeds(signal.id())),
        not(any(atWork)));
  }

  private List<Expression> peopleIn(String section) {
    return PeopleDemands.ways(section)
        .<Expression>map(protection -> is(plant.named(protection)))
        .toList();
  }
}
