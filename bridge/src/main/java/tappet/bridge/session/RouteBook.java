package tappet.bridge.session;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collection;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.bridge.session.Stand.Trodden;
import tappet.layout.Control;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalKind;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.rules.ControlTable;
import tappet.rules.RouteFinder;
import tappet.rules.RoutePath;
import tappet.rules.RouteRow;

/**
 * Every place where a train of one length can stand, and how it gets from one to the other: by the
 * rows of the control table, by changing ends before a signal the other way, and by switches that
 * its crew throws by hand.
 */
final class RouteBook {

  /** A train stops that much short of a signal, and a little rounding. */
  private static final double SHORT_METRES = 0.1;

  /** A train that its crew halts may stand that much short. */
  private static final double HALTED_METRES = 0.6;

  private final TrackPlan plan;
  private final Layout layout;
  private final ControlTable table;
  private final Numbering numbering;
  private final double lengthMetres;
  private final Map<Stand.Key, Stand> stands = new LinkedHashMap<>();
  private final Deque<Stand> unexplored = new ArrayDeque<>();
  private final Map<String, List<Trodden>> trails = new LinkedHashMap<>();
  private final Set<String> signalled = new LinkedHashSet<>();

  /** The numbers of the sections, for sets of them. */
  record Numbering(List<String> sections) {
    Numbering {
      sections = List.copyOf(sections);
    }

    static Numbering of(Layout layout) {
      return new Numbering(List.copyOf(layout.sections().keySet()));
    }

    BitSet set(Collection<String> names) {
      BitSet set = new BitSet(sections.size());
      names.forEach(name -> set.set(sections.indexOf(name)));
      return set;
    }

    /** The first section that is in both. */
    Optional<String> common(BitSet one, BitSet other) {
      BitSet both = (BitSet) one.clone();
      both.and(other);
      return both.isEmpty() ? Optional.empty() : Optional.of(sections.get(both.nextSetBit(0)));
    }
  }

  RouteBook(TrackPlan plan, ControlTable table, Numbering numbering, double lengthMetres) {
    this.plan = plan;
    this.layout = plan.layout();
    this.table = table;
    this.numbering = numbering;
    this.lengthMetres = lengthMetres;
    table.routes().values().forEach(row -> signalled.addAll(row.path()));
  }

  /** The two ways a train can stand in a plain section, with all that follows from them. */
  List<Stand> beginnings(String section) {
    List<String> ends = layout.sections().get(section).between();
    List<Stand> both =
        List.of(
            stand(ends.get(1), List.of(new Trodden(section, ends.get(0))), false),
            stand(ends.get(0), List.of(new Trodden(section, ends.get(1))), false));
    while (!unexplored.isEmpty()) {
      explore(unexplored.remove());
    }
    return both;
  }

  /** Every stand that has been found. */
  Collection<Stand> stands() {
    return stands.values();
  }

  private Stand stand(String head, List<Trodden> trodden, boolean turned) {
    boolean held = holds(head, trodden.get(0).section());
    List<Trodden> trail = underTrain(trodden, held ? SHORT_METRES : HALTED_METRES);
    Stand.Key key = new Stand.Key(head, trail, turned);
    Stand known = stands.get(key);
    if (known == null) {
      BitSet covers = numbering.set(trail.stream().map(Trodden::section).toList());
      List<String> signals =
          signalsAhead(head, trail.get(0).section()).stream().map(Signal::id).toList();
      known = new Stand(stands.size(), key, covers, signals, held);
      stands.put(key, known);
      unexplored.add(known);
    }
    return known;
  }

  private List<Trodden> underTrain(List<Trodden> trodden, double shortMetres) {
    double left = lengthMetres + shortMetres;
    List<Trodden> under = new ArrayList<>();
    for (Trodden next : trodden) {
      if (left > 0) {
        under.add(next);
        left -= layout.sections().get(next.section()).lengthMetres();
      }
    }
    return under;
  }

  private boolean holds(String head, String section) {
    List<Signal> ahead = signalsAhead(head, section);
    return onwards(head, section).isEmpty()
        || ahead.stream().anyMatch(signal -> signal.kind() != SignalKind.AUTOMATIC);
  }

  /** The signals that govern leaving a section at a joint. */
  private List<Signal> signalsAhead(String joint, String section) {
    return plan.signalsAt(joint).stream()
        .filter(signal -> !signal.into().equals(section) && signal.repeats().isEmpty())
        .toList();
  }

  private List<Track> onwards(String joint, String section) {
    return plan.into(joint, section).stream()
        .flatMap(track -> plan.onwards(track, joint).stream())
        .filter(track -> !track.section().equals(section))
        .distinct()
        .toList();
  }

  private void explore(Stand stand) {
    for (Signal signal : signalsAhead(stand.head(), stand.section())) {
      table.routesFrom(signal.id()).forEach(row -> follow(stand, List.of(row)));
    }
    addTurn(stand);
    spursAt(stand).forEach(spur -> addWayInto(spur, stand));
    spurs().stream()
        .filter(spur -> stand.sections().equals(List.of(spur.section().id())))
        .forEach(spur -> addWayOut(spur, stand));
  }

  /** On by automatic signals, as far as the next that a dispatcher works, or the end. */
  private void follow(Stand from, List<RouteRow> rows) {
    RouteRow last = rows.get(rows.size() - 1);
    List<RouteRow> onwards =
        last.nextSignal().stream()
            .flatMap(signal -> table.routesFrom(signal).stream())
            .filter(row -> row.automatic() && !rows.contains(row))
            .toList();
    if (onwards.isEmpty()) {
      addOver(from, rows);
    }
    for (RouteRow row : onwards) {
      follow(from, Stream.concat(rows.stream(), Stream.of(row)).toList());
    }
  }

  private void addOver(Stand from, List<RouteRow> rows) {
    List<Trodden> trodden = new ArrayList<>(from.trail());
    Set<String> needs = new LinkedHashSet<>();
    List<String> path = new ArrayList<>();
    for (RouteRow row : rows) {
      List<Trodden> over = trails.computeIfAbsent(row.id(), id -> trail(row));
      over.forEach(next -> trodden.add(0, next));
      path.addAll(row.path());
      needs.addAll(sectionsOf(row));
    }
    RouteRow last = rows.get(rows.size() - 1);
    String end = last.nextSignal().map(id -> layout.signals().get(id).at()).orElse(last.to());
    from.add(new Move.Over(rows, path, numbering.set(needs), stand(end, trodden, false)));
  }

  /** All that must be free for a row to be lined. */
  private Set<String> sectionsOf(RouteRow row) {
    Set<String> sections = new LinkedHashSet<>(row.path());
    sections.addAll(row.alsoClear());
    row.overlap().ifPresent(overlap -> sections.addAll(overlap.clear()));
    row.flank().keySet().stream()
        .map(id -> layout.switches().get(id).section())
        .forEach(sections::add);
    return sections;
  }

  private List<Trodden> trail(RouteRow row) {
    Signal signal = layout.signals().get(row.from());
    RoutePath path =
        RouteFinder.pathsBetween(signal, row.to(), plan).stream()
            .filter(way -> way.sections().equals(row.path()))
            .filter(way -> row.switches().entrySet().containsAll(lead(way).entrySet()))
            .findFirst()
            .orElseThrow();
    List<Trodden> trail = new ArrayList<>();
    String joint = signal.at();
    for (Track track : path.tracks()) {
      if (trail.isEmpty() || !trail.get(trail.size() - 1).section().equals(track.section())) {
        trail.add(new Trodden(track.section(), joint));
      }
      joint = track.otherEnd(joint);
    }
    return trail;
  }

  /** The switches of a way by the numbers that rows call them by. */
  private Map<String, Position> lead(RoutePath way) {
    Map<String, Position> lead = new LinkedHashMap<>();
    way.switches().forEach((id, lies) -> lead.put(layout.switches().get(id).number(), lies));
    return lead;
  }

  /** A train changes ends where it stands on plain track, with plain track as far as a signal. */
  private void addTurn(Stand stand) {
    Trodden tail = stand.trail().get(stand.trail().size() - 1);
    if (stand.key().turned() || !isPlain(tail.section()) || isSpur(tail.section())) {
      return;
    }
    plainTrackFrom(tail.section(), tail.entry())
        .ifPresent(
            chain -> {
              List<Trodden> trodden = new ArrayList<>(chain.trodden());
              trodden.addAll(reversed(stand));
              List<String> path = new ArrayList<>(List.of(tail.section()));
              List<String> chained = new ArrayList<>();
              chain.trodden().forEach(next -> chained.add(0, next.section()));
              path.addAll(chained);
              stand.add(
                  new Move.Turn(path, numbering.set(chained), stand(chain.end(), trodden, true)));
            });
  }

  private static List<Trodden> reversed(Stand stand) {
    List<Trodden> reversed = new ArrayList<>();
    String entry = stand.head();
    for (Trodden next : stand.trail()) {
      reversed.add(0, new Trodden(next.section(), entry));
      entry = next.entry();
    }
    return reversed;
  }

  private boolean isPlain(String section) {
    return !layout.sections().get(section).between().isEmpty();
  }

  /**
   * Plain track from a joint on.
   *
   * @param trodden its sections, the last first
   * @param end the joint where a signal stands, or the track ends
   */
  private record Chain(List<Trodden> trodden, String end) {}

  /** Empty where a switch comes before any signal. */
  private Optional<Chain> plainTrackFrom(String section, String from) {
    List<Trodden> trodden = new ArrayList<>();
    String here = section;
    String joint = from;
    while (signalsAhead(joint, here).isEmpty() && !onwards(joint, here).isEmpty()) {
      List<Track> onwards = onwards(joint, here);
      if (onwards.size() != 1 || !isPlain(onwards.get(0).section())) {
        return Optional.empty();
      }
      String next = onwards.get(0).section();
      if (trodden.stream().anyMatch(seen -> seen.section().equals(next))) {
        return Optional.empty();
      }
      trodden.add(0, new Trodden(next, joint));
      here = next;
      joint = onwards.get(0).otherEnd(joint);
    }
    return Optional.of(new Chain(trodden, joint));
  }

  /**
   * Track that no row leads to, behind a switch that is thrown by hand.
   *
   * @param position how the switch lies for it
   */
  private record Spur(Switch toe, Position position, Section section) {}

  private boolean isSpur(String section) {
    return spurs().stream().anyMatch(spur -> spur.section().id().equals(section));
  }

  private List<Spur> spurs() {
    List<Spur> spurs = new ArrayList<>();
    for (Switch toe : layout.switches().values()) {
      boolean byHand = toe.control() == Control.RELEASED || toe.control() == Control.HAND;
      for (Position position : Position.values()) {
        if (byHand && toe.hasLeg(position)) {
          plan.tracksAt(toe.leg(position)).stream()
              .map(track -> layout.sections().get(track.section()))
              .filter(section -> !section.between().isEmpty())
              .filter(section -> !signalled.contains(section.id()))
              .filter(section -> section.lengthMetres() >= lengthMetres + SHORT_METRES)
              .forEach(section -> spurs.add(new Spur(toe, position, section)));
        }
      }
    }
    return spurs;
  }

  /**
   * The spurs before whose switch a train stands. It must have changed ends: the traffic that let
   * it come would call the automatic signal over the switch, and no lock is released then.
   */
  private List<Spur> spursAt(Stand stand) {
    return spurs().stream()
        .filter(spur -> stand.key().turned() && spur.toe().points().equals(stand.head()))
        .filter(
            spur ->
                onwards(stand.head(), stand.section()).stream()
                    .anyMatch(track -> track.section().equals(spur.toe().section())))
        .filter(spur -> !holds(stand.head(), stand.section()))
        .toList();
  }

  private void addWayInto(Spur spur, Stand from) {
    String frog = spur.toe().leg(spur.position());
    String end =
        spur.section().between().get(0).equals(frog)
            ? spur.section().between().get(1)
            : spur.section().between().get(0);
    List<Trodden> trodden = List.of(new Trodden(spur.section().id(), frog));
    List<String> path = List.of(spur.toe().section(), spur.section().id());
    from.add(
        new Move.ByHand(
            spur.toe().id(),
            spur.position(),
            false,
            path,
            numbering.set(path),
            stand(end, trodden, false)));
  }

  private void addWayOut(Spur spur, Stand from) {
    String points = spur.toe().points();
    String os = spur.toe().section();
    plainTrackFromPoints(os, points)
        .ifPresent(
            chain -> {
              List<Trodden> trodden = new ArrayList<>(chain.trodden());
              trodden.add(new Trodden(os, spur.toe().leg(spur.position())));
              trodden.addAll(reversed(from));
              List<String> path = new ArrayList<>();
              chain.trodden().forEach(next -> path.add(0, next.section()));
              path.add(0, os);
              from.add(
                  new Move.ByHand(
                      spur.toe().id(),
                      spur.position(),
                      true,
                      path,
                      numbering.set(path),
                      stand(chain.end(), trodden, false)));
            });
  }

  /** An automatic signal at the points is passed by sight; one at which a train stays is no way. */
  private Optional<Chain> plainTrackFromPoints(String os, String points) {
    List<Track> onwards = onwards(points, os);
    boolean stays =
        signalsAhead(points, os).stream().anyMatch(signal -> signal.kind() != SignalKind.AUTOMATIC);
    if (stays || onwards.size() != 1 || !isPlain(onwards.get(0).section())) {
      return Optional.empty();
    }
    Track first = onwards.get(0);
    return plainTrackFrom(first.section(), first.otherEnd(points))
        .map(
            chain -> {
              List<Trodden> whole = new ArrayList<>(chain.trodden());
              whole.add(new Trodden(first.section(), points));
              return new Chain(whole, chain.end());
            });
  }
}
