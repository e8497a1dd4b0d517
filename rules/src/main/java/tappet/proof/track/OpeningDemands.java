package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Opening;
import tappet.network.Expression;
import tappet.proof.Property.Kind;

/** What must hold of openings in the track. */
final class OpeningDemands {

  private final Layout layout;
  private final Plant plant;
  private final Authorities authorities;
  private final LineWatch lines;

  OpeningDemands(Layout layout, Plant plant, Authorities authorities, LineWatch lines) {
    this.layout = layout;
    this.plant = plant;
    this.authorities = authorities;
    this.lines = lines;
  }

  List<Demand> all() {
    var openings = layout.lineside().openings().values();
    return Stream.of(
            openings.stream().map(this::closedUnderSignals),
            openings.stream().flatMap(opening -> lockedBeforeTrains(opening).stream()))
        .flatMap(demands -> demands)
        .toList();
  }

  private Demand closedUnderSignals(Opening opening) {
    List<Expression> safe = new ArrayList<>();
    safe.add(plant.isDetected(opening.key(), "closed", "open"));
    opening
        .lock()
        .ifPresent(lock -> safe.add(plant.isDetected(opening.key(), "locked", "unlocked")));
    return new Demand(
        Kind.OPENING,
        "no signal leads over " + opening.key() + " unless it is closed and locked",
        any(over(opening).map(authority -> is(authority.given)).toList()),
        Expression.all(safe));
  }

  private Stream<Authority> over(Opening opening) {
    return authorities.all().stream()
        .filter(
            authority -> authority.way.sections().stream().anyMatch(opening.sections()::contains));
  }

  /** By the signal of its way, or past it at Stop where that is automatic. */
  private Expression comes(Authority authority, Opening opening) {
    List<Expression> comes = new ArrayList<>();
    authority.way.sections().stream()
        .filter(opening.sections()::contains)
        .forEach(section -> comes.add(authority.reaches(section)));
    comes.add(lines.comesBySight(authority.way));
    return any(comes);
  }

  private Optional<Demand> lockedBeforeTrains(Opening opening) {
    List<Expression> reached = over(opening).map(one -> comes(one, opening)).toList();
    return plant
        .find(opening.key() + ": sent unlocked")
        .map(
            unlocked ->
                new Demand(
                    Kind.OPENING,
                    opening.key() + " is not unlocked while a train may come over it",
                    is(unlocked),
                    Expression.all(not(any(reached)), plant.clear(opening.sections()))));
  }
}
