package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.proof.Property.Kind;

/** What a switch, or its electric lock, must never be told. */
final class SwitchDemands {

  private final Layout layout;
  private final Plant plant;
  private final Authorities authorities;

  SwitchDemands(Layout layout, Plant plant, Authorities authorities) {
    this.layout = layout;
    this.plant = plant;
    this.authorities = authorities;
  }

  List<Demand> all() {
    return Stream.concat(
            plant.motors().stream().flatMap(number -> ofMotor(number).stream()),
            layout.switches().values().stream()
                .filter(toe -> plant.releases(toe.id()).isPresent())
                .map(this::ofLock))
        .toList();
  }

  private List<Demand> ofMotor(String number) {
    List<Expression> clear = new ArrayList<>();
    List<Expression> authority = new ArrayList<>();
    for (Switch end : plant.ends(number)) {
      clear.add(plant.clear(end.section()));
      authorities.over(end).forEach(over -> authority.add(over.reaches(end.section())));
    }
    return List.of(
        new Demand(
            Kind.SWITCH_UNDER_TRAIN,
            "switch " + number + " is sent only while its section is clear",
            plant.sent(number),
            Expression.all(clear)),
        new Demand(
            Kind.SWITCH_UNDER_AUTHORITY,
            "switch " + number + " is not moved while a train may come over it",
            plant.moves(number),
            not(any(authority))),
        new Demand(
            Kind.PEOPLE,
            "switch " + number + " is not moved while it is blocked or its section is flagged",
            plant.moves(number),
            not(any(plant.ends(number).stream().flatMap(this::handsOn).toList()))));
  }

  private Stream<Expression> handsOn(Switch toe) {
    return Stream.of(
            "switch " + toe.id() + ": blocked",
            "section " + toe.section() + ": blocked",
            "section " + toe.section() + ": flagged")
        .map(plant::named)
        .map(Expression::is);
  }

  private Demand ofLock(Switch toe) {
    List<Expression> authority = new ArrayList<>();
    for (Switch end : plant.ends(toe.number())) {
      authorities.over(end).forEach(over -> authority.add(over.awaitedIn(end.section(), plant)));
    }
    return new Demand(
        Kind.LOCK_UNDER_AUTHORITY,
        "the electric lock of switch " + toe.id() + " is not released before a train",
        is(plant.releases(toe.id()).orElseThrow()),
        not(any(authority)));
  }
}
