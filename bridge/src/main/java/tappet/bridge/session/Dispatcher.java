package tappet.bridge.session;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import tappet.bridge.session.Crew.Duty;
import tappet.rules.ControlTable;
import tappet.simulator.session.ListedTrain.Start;

/**
 * Lines routes by need. Before a train is let into its next track it must be shown that every train
 * can still get to its end; whoever has waited longest comes first.
 */
final class Dispatcher {

  /** How long it looks away between two looks at the railroad. */
  static final double LOOK_SECONDS = 1;

  static final long LOOK_NS = TimeUnit.SECONDS.toNanos(1);

  /** From then on nobody younger takes track that a train waits for. */
  private static final long LONG_WAIT_NS = TimeUnit.SECONDS.toNanos(120);

  private final List<Crew> crews;
  private final Foresight foresight;
  private final ControlTable table;
  private final RouteBook.Numbering numbering;
  private final Orders orders;
  private final Chance chance;
  private final Timetable timetable;
  private final Map<Crew, Long> waitsSinceNs = new HashMap<>();
  private BitSet reserved = new BitSet();
  private Sight sight;
  private long lastLookNs;
  private boolean beginsRuns = true;
  private final Set<Crew> keptBack = new HashSet<>();
  private int keptBackCount;

  Dispatcher(List<Crew> crews, Foresight foresight, Crew.Company company) {
    this.crews = List.copyOf(crews);
    this.foresight = foresight;
    this.table = company.table();
    this.numbering = company.numbering();
    this.orders = company.orders();
    this.chance = company.chance();
    this.timetable = new Timetable(this.crews, company.clock());
  }

  /** No run begins from now on, but of trains that stand in the way of those that have begun. */
  void beginNoMore() {
    beginsRuns = false;
  }

  int keptBackCount() {
    return keptBackCount;
  }

  /** Sees how things stand, lets the crews do their part, and gives moves to those who want on. */
  void look(Sight now) {
    long passedNs = sight == null ? 0 : now.nowNs() - lastLookNs;
    lastLookNs = now.nowNs();
    sight = now;
    crews.forEach(crew -> crew.follow(now, passedNs, heldByOthers(crew)));
    reserved = new BitSet();
    for (Crew crew : inOrder()) {
      serve(crew);
    }
  }

  private record Turn(Crew crew, long sinceNs, int lot) {}

  /** Who has waited longest comes first; among equals lots are drawn. */
  private List<Crew> inOrder() {
    List<Turn> turns = new ArrayList<>();
    for (Crew crew : crews) {
      if (isDue(crew) || crew.wantsOn()) {
        long since = waitsSinceNs.computeIfAbsent(crew, any -> sight.nowNs());
        turns.add(new Turn(crew, since, chance.lot()));
      }
    }
    turns.sort(Comparator.comparingLong(Turn::sinceNs).thenComparingInt(Turn::lot));
    return turns.stream().map(Turn::crew).toList();
  }

  private void serve(Crew crew) {
    boolean served = crew.duty() == Duty.ON_THE_WAY ? sendOn(crew) : begin(crew);
    if (served) {
      waitsSinceNs.remove(crew);
      keptBack.remove(crew);
    }
  }

  // Runs.

  private boolean isDue(Crew crew) {
    return crew.duty() != Duty.ON_THE_WAY
        && timetable.isDue(crew)
        && isReady(crew)
        && (beginsRuns || (crew.duty() == Duty.PARKED && parkedTrainsAreInTheWay()));
  }

  private boolean parkedTrainsAreInTheWay() {
    List<Foresight.Claim> asTheyAre =
        crews.stream()
            .filter(crew -> crew.duty() != Duty.AWAY)
            .map(crew -> crew.claim(crew.stand(), crew.goal(), false))
            .toList();
    return !foresight.everyTrainArrives(asTheyAre);
  }

  private boolean isReady(Crew crew) {
    return crew.duty() == Duty.AWAY || !crew.train().then().isLifted();
  }

  private boolean begin(Crew crew) {
    boolean isAway = crew.duty() == Duty.AWAY;
    Stand from = isAway ? crew.itinerary().beginning() : crew.stand();
    Optional<String> whyNot =
        numbering
            .common(from.covers(), heldByOthers(crew))
            .map(section -> takenBy(section, crew))
            .or(() -> lockedOver(from).filter(route -> isAway))
            .or(() -> unsafe(crew, from, 0))
            .or(crew::begin);
    whyNot.ifPresent(crew::waitFor);
    return whyNot.isEmpty();
  }

  /**
   * Nobody puts a train where the box still waits for another, or it would take it for that one.
   */
  private Optional<String> lockedOver(Stand there) {
    return sight.locked().stream()
        .filter(route -> table.routes().get(route).path().contains(there.section()))
        .findFirst()
        .map("route %s is locked"::formatted);
  }

  // Moves.

  private boolean sendOn(Crew crew) {
    Optional<String> whyNot = Optional.empty();
    for (Move move : crew.itinerary().onwards(crew.stand(), crew.goal())) {
      Optional<String> hindrance = send(crew, move);
      if (hindrance.isEmpty()) {
        return true;
      }
      whyNot = whyNot.or(() -> hindrance);
    }
    if (crew.isAtAStand()) {
      crew.waitFor(whyNot.orElse("no way leads on from " + crew.stand()));
    }
    return false;
  }

  private Optional<String> send(Crew crew, Move move) {
    if (!(move instanceof Move.Over) && !crew.isAtAStand()) {
      return Optional.of("it has not arrived"); // Only routes are lined before a train is there.
    }
    BitSet others = heldByOthers(crew);
    Optional<String> taken = numbering.common(move.needs(), others);
    if (taken.isPresent()) {
      reserveFor(crew, move);
      return Optional.of(takenBy(taken.get(), crew));
    }
    Optional<String> promised = numbering.common(move.needs(), reserved);
    if (promised.isPresent()) {
      return Optional.of("%s is kept for one who has waited longer".formatted(promised.get()));
    }
    Optional<String> unsafe = unsafe(crew, move.to(), crew.goal());
    if (unsafe.isPresent()) {
      return unsafe;
    }
    Optional<String> refused = line(crew, move);
    if (refused.isPresent()) {
      crew.askLater();
      return refused.map(reason -> "refused: " + reason.strip());
    }
    crew.give(move);
    return Optional.empty();
  }

  private Optional<String> line(Crew crew, Move move) {
    return move instanceof Move.Over over && !over.first().automatic()
        ? orders.line(over.first(), crew.name())
        : Optional.empty();
  }

  /** Who has waited long, and whose move is safe, waits only for trains that are on the move. */
  private void reserveFor(Crew crew, Move move) {
    long since = waitsSinceNs.getOrDefault(crew, sight.nowNs());
    if (sight.nowNs() - since > LONG_WAIT_NS
        && isFreeOnceAllStand(crew, move)
        && foresight.everyTrainArrives(claims(crew, move.to(), crew.goal()))) {
      reserved.or(move.needs());
    }
  }

  private boolean isFreeOnceAllStand(Crew crew, Move move) {
    return crews.stream()
        .filter(other -> other != crew && other.duty() != Duty.AWAY)
        .noneMatch(other -> other.stand().covers().intersects(move.needs()));
  }

  private String takenBy(String section, Crew crew) {
    BitSet one = numbering.set(List.of(section));
    return crews.stream()
        .filter(other -> other != crew && other.held().intersects(one))
        .findFirst()
        .map(other -> "%s is taken by %s".formatted(section, other.name()))
        .orElseThrow();
  }

  private BitSet heldByOthers(Crew crew) {
    BitSet held = new BitSet();
    crews.stream().filter(other -> other != crew).forEach(other -> held.or(other.held()));
    return held;
  }

  // What would become of it.

  /** Why a train must not be there next; empty where it may. */
  private Optional<String> unsafe(Crew crew, Stand there, int goal) {
    if (foresight.everyTrainArrives(claims(crew, there, goal))) {
      return Optional.empty();
    }
    keptBackCount += keptBack.add(crew) ? 1 : 0;
    return Optional.of("it is kept back, for every train must still get to its end");
  }

  private List<Foresight.Claim> claims(Crew moved, Stand there, int goal) {
    List<Foresight.Claim> claims = new ArrayList<>();
    for (Crew crew : crews) {
      if (crew == moved) {
        claims.add(crew.claim(there, goal, false));
      } else if (crew.duty() != Duty.AWAY) {
        claims.add(crew.claim(crew.stand(), crew.goal(), canBeginAgain(crew)));
      }
    }
    return claims;
  }

  /**
   * One that begins at a time will; one that begins after another may wait for who waits for it.
   */
  private boolean canBeginAgain(Crew crew) {
    if (crew.duty() != Duty.PARKED || crew.train().then().isLifted()) {
      return false;
    }
    return crew.train().start() instanceof Start.At
        ? crew.train().again().isPresent()
        : timetable.isDue(crew);
  }
}
