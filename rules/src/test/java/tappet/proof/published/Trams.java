package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.interlocking.PublishedExample;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.proof.Property.Kind;
import tappet.proof.Watched;

/**
 * Trams on the published junction, as {@code oracle.model} of its file has it: each step is one
 * cycle with any requests, or one step of a tram. A tram waits at 1, 2 or 3 unless its signal shows
 * proceed, and leaves at the end of its route.
 */
final class Trams {

  /** What a tram can stand in at once. */
  enum Length {
    SHORTER_THAN_ONE_SECTION,
    THAT_MAY_STRADDLE_A_JOINT
  }

  /** Where a tram starts, and which routes it can take from there. */
  private record Start(String track, String direction) {}

  private static final Map<String, Start> STARTS =
      Map.of("V", new Start("3", "VQ"), "Q2", new Start("1", "QV"), "Q3", new Start("2", "QV"));

  /** Two tracks that meet, in the order of travel, and that a switch between them lies for both. */
  private record Joint(String from, String to, Expression lies) {}

  /** One tram: the tracks that it stands in. */
  private record Tram(String name, Start start, Map<String, Variable> in, List<Joint> joints) {}

  private final PublishedExample published = PublishedExample.named(PublishedExample.TRAM_JUNCTION);
  private final Length length;
  private final Machine machine = new Machine();
  private final RelayEquations equations;
  private final Map<String, Variable> occupied = new LinkedHashMap<>();
  private final Map<String, Variable> requests = new LinkedHashMap<>();
  private final List<Tram> trams = new ArrayList<>();

  private Trams(List<String> names, Length length) {
    this.length = length;
    Map<String, Map<String, Variable>> stands = new LinkedHashMap<>();
    names.forEach(name -> stands.put(name, placesOf(name)));
    PublishedExample.texts(published.data.get("sections"))
        .forEach(track -> occupied.put(track, occupied(track, stands.values())));
    for (int request = 1; request <= 4; request++) {
      requests.put("TC" + request, machine.input("request TC" + request));
    }
    equations =
        new RelayEquations(
            published.data.get("equations"), machine, is(machine.event("cycle")), this::told);
    stands.forEach((name, in) -> trams.add(new Tram(name, STARTS.get(name), in, joints(name))));
    trams.forEach(this::addSteps);
    trams.forEach(this::demandNoDerailment);
    demandNoCollision();
  }

  /** Trams that start at some of V, Q2 and Q3, with the published property. */
  static Watched from(List<String> starts, Length length) {
    return new Trams(starts, length).machine.watched();
  }

  /** What is said of a tram that must not be derailed. */
  static String notDerailed(String tram) {
    return "the tram from " + tram + " is not derailed";
  }

  static String stands(String tram, String track) {
    return "tram from " + tram + ": in " + track;
  }

  private Map<String, Variable> placesOf(String tram) {
    Map<String, Variable> in = new LinkedHashMap<>();
    String start = STARTS.get(tram).track();
    for (JsonNode route : routesOf(tram)) {
      for (String track : PublishedExample.texts(route.get("sections"))) {
        String name = stands(tram, track);
        in.computeIfAbsent(
            track,
            any -> track.equals(start) ? machine.latchInitiallyTrue(name) : machine.latch(name));
      }
    }
    return in;
  }

  private List<JsonNode> routesOf(String tram) {
    Start start = STARTS.get(tram);
    return published.routes().stream()
        .filter(route -> route.get("direction").asText().equals(start.direction()))
        .filter(route -> route.get("sections").get(0).asText().equals(start.track()))
        .toList();
  }

  private Variable occupied(String track, Iterable<Map<String, Variable>> stands) {
    List<Expression> by = new ArrayList<>();
    for (Map<String, Variable> in : stands) {
      if (in.containsKey(track)) {
        by.add(is(in.get(track)));
      }
    }
    return machine.equation("track " + track + ": occupied", any(by));
  }

  private Expression told(String input) {
    return input.startsWith("CDV")
        ? not(occupied.get(input.substring("CDV".length())))
        : is(requests.get(input));
  }

  /** What joins the tracks of a tram's routes, in the order of travel. */
  private List<Joint> joints(String tram) {
    Set<Joint> joints = new LinkedHashSet<>();
    for (JsonNode route : routesOf(tram)) {
      List<String> tracks = PublishedExample.texts(route.get("sections"));
      for (int index = 1; index < tracks.size(); index++) {
        String from = tracks.get(index - 1);
        joints.add(new Joint(from, tracks.get(index), lies(from, tracks.get(index))));
      }
    }
    return List.copyOf(joints);
  }

  /** A switch is published by what it joins: straight, and then diverging. */
  private Expression lies(String one, String other) {
    List<Expression> lies = new ArrayList<>();
    for (JsonNode toe : published.data.get("switches")) {
      List<String> joins = List.of(toe.get("joint").asText().split(" / ", -1));
      Variable straight = equations.straight(PublishedExample.id(toe));
      for (String way : List.of(one + "-" + other, other + "-" + one)) {
        if (joins.contains(way)) {
          lies.add(joins.indexOf(way) == 0 ? is(straight) : not(straight));
        }
      }
    }
    return all(lies);
  }

  private void addSteps(Tram tram) {
    Variable step = machine.event("step of the tram from " + tram.name());
    for (Joint joint : tram.joints()) {
      Expression comes = all(is(step), mayLeave(tram, joint.from()), joint.lies());
      machine.set(tram.in().get(joint.to()), comes);
      machine.reset(
          tram.in().get(joint.from()),
          length == Length.THAT_MAY_STRADDLE_A_JOINT
              ? all(is(step), straddles(tram, joint))
              : comes);
    }
    ends(tram)
        .forEach(end -> machine.reset(tram.in().get(end), all(is(step), standsIn(tram, end))));
  }

  private static Expression straddles(Tram tram, Joint joint) {
    return all(is(tram.in().get(joint.from())), is(tram.in().get(joint.to())));
  }

  /** It stands in a track and in no other. */
  private static Expression standsIn(Tram tram, String track) {
    List<Expression> stands = new ArrayList<>();
    tram.in().forEach((each, in) -> stands.add(each.equals(track) ? is(in) : not(in)));
    return all(stands);
  }

  private Expression mayLeave(Tram tram, String track) {
    boolean waits = track.equals(tram.start().track());
    return all(standsIn(tram, track), waits ? is(equations.proceeds(track)) : Expression.always());
  }

  private static List<String> ends(Tram tram) {
    return tram.in().keySet().stream()
        .filter(track -> tram.joints().stream().noneMatch(joint -> joint.from().equals(track)))
        .toList();
  }

  /** It comes to no switch that lies against it, and none moves under it. */
  private void demandNoDerailment(Tram tram) {
    List<Expression> derails = new ArrayList<>();
    for (String track : tram.in().keySet()) {
      List<Expression> onwards = new ArrayList<>();
      for (Joint joint : tram.joints()) {
        if (joint.from().equals(track)) {
          onwards.add(joint.lies());
          derails.add(all(straddles(tram, joint), not(joint.lies())));
        }
      }
      if (!onwards.isEmpty()) {
        derails.add(all(mayLeave(tram, track), not(any(onwards))));
      }
    }
    machine.demand(Kind.SWITCH_UNDER_TRAIN, notDerailed(tram.name()), not(any(derails)));
  }

  /** "Two trains that are both present are never on the same track." */
  private void demandNoCollision() {
    for (int one = 0; one < trams.size(); one++) {
      for (int other = one + 1; other < trams.size(); other++) {
        demandNeverOnTheSameTrack(trams.get(one), trams.get(other));
      }
    }
  }

  private void demandNeverOnTheSameTrack(Tram one, Tram other) {
    List<Expression> both = new ArrayList<>();
    one.in()
        .forEach(
            (track, in) -> {
              if (other.in().containsKey(track)) {
                both.add(all(is(in), is(other.in().get(track))));
              }
            });
    machine.demand(
        Kind.ONE_AUTHORITY,
        "the trams from " + one.name() + " and " + other.name() + " are never on the same track",
        not(any(both)));
  }
}
