package tappet.proof.track;

import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.network.Expression;
import tappet.proof.Property.Kind;

/**
 * When people may be let onto a section (interlocking sheet, F.1 S16): while no train may come into
 * it. One that stands in it already may be their own.
 */
final class PeopleDemands {

  private final Layout layout;
  private final Plant plant;
  private final Authorities authorities;

  PeopleDemands(Layout layout, Plant plant, Authorities authorities) {
    this.layout = layout;
    this.plant = plant;
    this.authorities = authorities;
  }

  /** How people are on a section, as the names of variables have it. */
  static Stream<String> ways(String section) {
    return Stream.of("under permit", "blocked", "flagged")
        .map(how -> "section " + section + ": " + how);
  }

  List<Demand> all() {
    return layout.sections().keySet().stream().flatMap(section -> of(section).stream()).toList();
  }

  private Optional<Demand> of(String section) {
    List<Expression> comes =
        authorities.all().stream()
            .filter(authority -> authority.way.sections().contains(section))
            .map(authority -> authority.comesInto(section, plant))
            .toList();
    List<Expression> given =
        ways(section).flatMap(protection -> isGiven(protection).stream()).toList();
    return comes.isEmpty() || given.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Demand(
                Kind.PEOPLE,
                "people are let onto section " + section + " only while no train may come into it",
                any(given),
                not(any(comes))));
  }

  /** Empty where nobody can ask for it. */
  private Optional<Expression> isGiven(String protection) {
    return plant
        .find(protection + " asked")
        .map(asked -> Expression.all(is(asked), is(plant.named(protection + " available"))));
  }
}
