package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import tappet.layout.SignalKind;
import tappet.layout.Track;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Property.Kind;

/**
 * Watches the ways that go on through automatic signals. A train passes an automatic signal at Stop
 * at restricted speed, so its authority is no end for trains that come against it: whoever is let
 * onto such a line may come to the next absolute signal.
 */
final class LineWatch {

  /** A way through automatic signals to an absolute one, or to where there is none. */
  private record Line(List<Way> ways) {

    Way first() {
      return ways.get(0);
    }

    String id() {
      return String.join(" and ", ways.stream().map(Way::id).toList());
    }

    /**
     * Where a train stands on it that may come to run against the other one, having left its first
     * way behind: from the end of that to the last track that both share the other way round.
     * Nowhere if they share none, or only in the first way of both: two first ways are two
     * authorities, and not watched here.
     */
    List<String> against(Line other) {
      int last = -1;
      for (int index = 0; index < ways.size(); index++) {
        for (Way others : other.ways) {
          boolean bothFirst = index == 0 && others.equals(other.first());
          if (!bothFirst && opposes(ways.get(index), others)) {
            last = index;
          }
        }
      }
      return last < 0 ? List.of() : sectionsTo(last);
    }

    /** From the end of its first way to the end of another one. */
    private List<String> sectionsTo(int last) {
      List<String> first = first().sections();
      return Stream.concat(
              Stream.of(first.get(first.size() - 1)),
              ways.subList(1, last + 1).stream().flatMap(way -> way.sections().stream()))
          .distinct()
          .toList();
    }

    private static boolean opposes(Way one, Way other) {
      Map<Track, String> entries = entries(one);
      return entries(other).entrySet().stream()
          .anyMatch(
              entry ->
                  entries.containsKey(entry.getKey())
                      && !entries.get(entry.getKey()).equals(entry.getValue()));
    }

    private static Map<Track, String> entries(Way way) {
      Map<Track, String> entries = new LinkedHashMap<>();
      String joint = way.from().at();
      for (Track track : way.tracks()) {
        entries.put(track, joint);
        joint = track.otherEnd(joint);
      }
      return entries;
    }
  }

  /** A train on a line that may stand in some of its sections. */
  private record Running(Line line, List<String> sections) {}

  private final Authorities authorities;
  private final Plant plant;
  private final NetworkBuilder network;
  private final List<Line> lines;
  private final Map<Running, Variable> running = new LinkedHashMap<>();

  LineWatch(Authorities authorities, Plant plant, NetworkBuilder network) {
    this.authorities = authorities;
    this.plant = plant;
    this.network = network;
    this.lines = authorities.all().stream().flatMap(one -> goingOn(List.of(one.way))).toList();
  }

  /** A train may come on a way that has passed its automatic signal at Stop. */
  Expression comesBySight(Way way) {
    List<Expression> comes = new ArrayList<>();
    for (Line line : lines) {
      int index = line.ways().indexOf(way);
      if (index > 0) {
        comes.add(is(running(line, line.sectionsTo(index))));
      }
    }
    return any(comes);
  }

  List<Demand> demands() {
    List<Demand> demands = new ArrayList<>();
    for (Line line : lines) {
      Set<Expression> against = new LinkedHashSet<>();
      for (Line other : lines) {
        List<String> shared = other.against(line);
        if (!shared.isEmpty()) {
          against.add(is(running(other, shared)));
        }
      }
      if (!against.isEmpty()) {
        demands.add(
            new Demand(
                Kind.LINE_ONE_WAY,
                "no train runs against " + line.id() + " when it is given",
                is(authorities.of(line.first()).given),
                not(any(List.copyOf(against)))));
      }
    }
    return demands;
  }

  private Variable running(Line line, List<String> sections) {
    return running.computeIfAbsent(new Running(line, sections), this::watch);
  }

  private Stream<Line> goingOn(List<Way> sofar) {
    Way last = sofar.get(sofar.size() - 1);
    boolean goesOn =
        last.next().filter(next -> next.kind() == SignalKind.AUTOMATIC).isPresent()
            && sofar.stream().noneMatch(way -> way.from().equals(last.next().orElseThrow()));
    if (!goesOn) {
      return Stream.of(new Line(sofar));
    }
    return authorities.from(last.next().orElseThrow().id()).stream()
        .flatMap(one -> goingOn(Stream.concat(sofar.stream(), Stream.of(one.way)).toList()));
  }

  /** A train may be on the line that way: since it was let on, until everything is clear again. */
  private Variable watch(Running train) {
    String where = train.line().id() + ": a train may run in " + train.sections();
    Variable running =
        network.latch(
            "line " + where, Words.fact("by " + where, "no train runs by " + train.line().id()));
    Authority first = authorities.of(train.line().first());
    network.define(
        running,
        is(first.given),
        all(not(first.given), not(first.due()), plant.clear(train.sections())));
    return running;
  }
}
