package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.interlocking.PublishedExample;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.proof.Property.Kind;
import tappet.proof.Watched;

/**
 * The abstract machine of J.-R. Abrial, Modeling in Event-B, Cambridge University Press 2010,
 * chapter 17 (Train System): its eight events under their published names, and its variables
 * element by element. Routes and blocks are those of the published file; the guards and actions of
 * the events are from memory. That they are right is told by the counts of states and transitions
 * in that file, which two other programs worked out from the publication; those of all ten routes
 * one of them.
 */
final class TrainSystem {

  /** That track is laid from one block to the next ({@code TRK}). */
  private record Link(String from, String to) {}

  private final Machine machine = new Machine();

  /** By route: its blocks in the order of travel. */
  private final Map<String, List<String>> routes = new LinkedHashMap<>();

  /** {@code resrt} and {@code frm}: by route. */
  private final Map<String, Variable> reserved = new LinkedHashMap<>();

  private final Map<String, Variable> formed = new LinkedHashMap<>();

  /** {@code rsrtbl}: by block and then by route. */
  private final Map<String, Map<String, Variable>> reservedFor = new LinkedHashMap<>();

  /** {@code OCC} and {@code LBT}: by block. */
  private final Map<String, Variable> occupied = new LinkedHashMap<>();

  private final Map<String, Variable> lastOfTrain = new LinkedHashMap<>();

  private final Map<Link, Variable> laid = new LinkedHashMap<>();

  private final Variable happens;
  private final Watched watched;

  private TrainSystem(PublishedExample published, Set<String> chosen) {
    for (JsonNode route : published.routes()) {
      if (chosen.contains(PublishedExample.id(route))) {
        routes.put(PublishedExample.id(route), PublishedExample.texts(route.get("sections")));
      }
    }
    routes.forEach(this::remember);
    routes.keySet().forEach(this::addEventsOfRoute);
    occupied.keySet().forEach(this::addEventsOfBlock);
    occupied.keySet().forEach(this::demandNoCollision);
    routes.keySet().forEach(this::demandNoDerailment);
    happens = machine.anyEventHappens();
    watched = machine.watched();
  }

  /** The machine when only some of the published routes exist. */
  static TrainSystem with(Set<String> routes) {
    return new TrainSystem(PublishedExample.named(PublishedExample.TRAIN_SYSTEM), routes);
  }

  /** Its network, with the demands that trains neither collide nor derail. */
  Watched watched() {
    return watched;
  }

  /** True in a tick in which one of its events happens. */
  Variable happens() {
    return happens;
  }

  private void remember(String route, List<String> blocks) {
    reserved.put(route, machine.latch("route " + route + ": reserved"));
    formed.put(route, machine.latch("route " + route + ": formed"));
    for (String block : blocks) {
      String role = "block " + block + ": ";
      occupied.computeIfAbsent(block, any -> machine.latch(role + "occupied"));
      lastOfTrain.computeIfAbsent(block, any -> machine.latch(role + "last of a train"));
      reservedFor
          .computeIfAbsent(block, any -> new LinkedHashMap<>())
          .put(route, machine.latch(role + "reserved for " + route));
    }
    links(route)
        .forEach(
            link ->
                laid.computeIfAbsent(
                    link, any -> machine.latch("track: " + link.from() + " to " + link.to())));
  }

  private List<Link> links(String route) {
    List<String> blocks = routes.get(route);
    List<Link> links = new ArrayList<>();
    for (int index = 1; index < blocks.size(); index++) {
      links.add(new Link(blocks.get(index - 1), blocks.get(index)));
    }
    return links;
  }

  private void addEventsOfRoute(String route) {
    addReservation(route);
    addFreeing(route);
    addFirstFrontMove(route);
    addPointPositioning(route);
    addFormation(route);
  }

  private void addReservation(String route) {
    List<Expression> free = new ArrayList<>(List.of(not(reserved.get(route))));
    routes.get(route).forEach(block -> free.add(not(isReserved(block))));
    Expression happens = machine.event("route_reservation " + route, all(free));
    machine.set(reserved.get(route), happens);
    routes.get(route).forEach(block -> machine.set(reservedFor.get(block).get(route), happens));
  }

  private Expression isReserved(String block) {
    return any(values(reservedFor.get(block).values()));
  }

  private void addFreeing(String route) {
    List<Expression> left = new ArrayList<>(List.of(is(reserved.get(route))));
    routes.get(route).forEach(block -> left.add(not(reservedFor.get(block).get(route))));
    Expression happens = machine.event("route_freeing " + route, all(left));
    machine.reset(reserved.get(route), happens);
    machine.reset(formed.get(route), happens);
  }

  private void addFirstFrontMove(String route) {
    String first = routes.get(route).get(0);
    Expression happens =
        machine.event(
            "FRONT_MOVE_1 " + route,
            all(
                is(formed.get(route)),
                is(reservedFor.get(first).get(route)),
                not(occupied.get(first))));
    machine.set(occupied.get(first), happens);
    machine.set(lastOfTrain.get(first), happens);
  }

  private void addPointPositioning(String route) {
    Expression happens =
        machine.event(
            "point_positionning " + route, all(is(reserved.get(route)), not(formed.get(route))));
    List<Link> wanted = links(route);
    laid.forEach(
        (link, variable) -> {
          if (wanted.contains(link)) {
            machine.set(variable, happens);
          } else if (wanted.stream().anyMatch(one -> excludes(one, link))) {
            machine.reset(variable, happens);
          }
        });
  }

  /** Each block leads to one block at most, and is come to from one. */
  private static boolean excludes(Link one, Link other) {
    return one.from().equals(other.from()) || one.to().equals(other.to());
  }

  private void addFormation(String route) {
    Expression happens =
        machine.event(
            "route_formation " + route,
            all(is(reserved.get(route)), not(formed.get(route)), liesFor(route)));
    machine.set(formed.get(route), happens);
  }

  /** From each block still reserved for a route, track leads where the route does. */
  private Expression liesFor(String route) {
    List<Link> wanted = links(route);
    List<Expression> lies = new ArrayList<>();
    for (String block : routes.get(route)) {
      List<Expression> here = new ArrayList<>();
      laid.forEach(
          (link, variable) -> {
            if (link.from().equals(block)) {
              here.add(wanted.contains(link) ? is(variable) : not(variable));
            }
          });
      lies.add(any(not(reservedFor.get(block).get(route)), all(here)));
    }
    return all(lies);
  }

  private void addEventsOfBlock(String block) {
    addFrontMove(block);
    addLastBackMove(block);
    addBackMove(block);
  }

  private void addFrontMove(String block) {
    List<Expression> free = new ArrayList<>();
    from(block).forEach((link, lies) -> free.add(all(is(lies), not(occupied.get(link.to())))));
    Expression happens =
        machine.event("FRONT_MOVE_2 " + block, all(is(occupied.get(block)), any(free)));
    from(block)
        .forEach((link, lies) -> machine.set(occupied.get(link.to()), all(happens, is(lies))));
  }

  private void addLastBackMove(String block) {
    List<Expression> onwards = values(from(block).values());
    leave(
        block,
        machine.event("BACK_MOVE_1 " + block, all(is(lastOfTrain.get(block)), not(any(onwards)))));
  }

  private void addBackMove(String block) {
    List<Expression> reached = new ArrayList<>();
    from(block).forEach((link, lies) -> reached.add(all(is(lies), is(occupied.get(link.to())))));
    Expression happens =
        machine.event("BACK_MOVE_2 " + block, all(is(lastOfTrain.get(block)), any(reached)));
    leave(block, happens);
    from(block)
        .forEach((link, lies) -> machine.set(lastOfTrain.get(link.to()), all(happens, is(lies))));
  }

  private void leave(String block, Expression happens) {
    machine.reset(occupied.get(block), happens);
    machine.reset(lastOfTrain.get(block), happens);
    reservedFor.get(block).values().forEach(each -> machine.reset(each, happens));
  }

  private Map<Link, Variable> from(String block) {
    Map<Link, Variable> from = new LinkedHashMap<>();
    laid.forEach(
        (link, variable) -> {
          if (link.from().equals(block)) {
            from.put(link, variable);
          }
        });
    return from;
  }

  private static List<Expression> values(Collection<Variable> variables) {
    return variables.stream().<Expression>map(Expression::is).toList();
  }

  /** A train stands only in blocks that are reserved, each for no more than one route. */
  private void demandNoCollision(String block) {
    List<Variable> each = List.copyOf(reservedFor.get(block).values());
    List<Expression> alone = new ArrayList<>();
    for (int one = 0; one < each.size(); one++) {
      for (int other = one + 1; other < each.size(); other++) {
        alone.add(not(all(is(each.get(one)), is(each.get(other)))));
      }
    }
    machine.demand(
        Kind.ONE_AUTHORITY, "block " + block + " is reserved for one route at most", all(alone));
    machine.demand(
        Kind.ONE_AUTHORITY,
        "a train stands in block " + block + " only while it is reserved",
        is(occupied.get(block)),
        isReserved(block));
  }

  private void demandNoDerailment(String route) {
    machine.demand(
        Kind.SWITCH_UNDER_AUTHORITY,
        "track lies for " + route + " while it is formed",
        is(formed.get(route)),
        liesFor(route));
  }
}
