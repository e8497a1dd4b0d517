package tappet.bridge.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.rules.ControlTable;
import tappet.simulator.session.ListedTrain;
import tappet.simulator.session.TrainList;
import tappet.source.Problems;

/**
 * An operating session: trains run by their list, a dispatcher lines routes, crews work. Whoever
 * holds it calls {@link #look} every {@link #LOOK_NS} of the railroad's time. The same railroad,
 * list and seed always give the same session.
 */
public final class Session {

  /** How much time of the railroad passes between two looks, in nanoseconds. */
  public static final long LOOK_NS = Dispatcher.LOOK_NS;

  /** When nothing has got on for so long although somebody wants to, nothing will. */
  private static final long STUCK_NS = TimeUnit.MINUTES.toNanos(45);

  private final TrainList list;
  private final Railroad railroad;
  private final Journal journal;
  private final FastTime clock = new FastTime();
  private final Orders orders;
  private final List<Crew> crews;
  private final Dispatcher dispatcher;
  private final Map<Crew, Progress> lastProgress = new HashMap<>();
  private long progressNs;
  private int mishapsSeen;
  private Optional<String> failure = Optional.empty();

  /** What changes where a train gets on. */
  private record Progress(Crew.Duty duty, Stand stand, int goal) {}

  private Session(
      TrainList list,
      Layout layout,
      List<Itinerary> itineraries,
      Railroad railroad,
      Journal journal,
      long seed,
      Foresight foresight) {
    this.list = list;
    this.railroad = railroad;
    this.journal = journal;
    this.orders = new Orders(railroad, journal);
    Crew.Company company =
        new Crew.Company(layout, numbering(layout), orders, journal, new Chance(seed), clock);
    this.crews = new ArrayList<>();
    for (int number = 0; number < itineraries.size(); number++) {
      crews.add(new Crew(list.trains().get(number), number, itineraries.get(number), company));
    }
    this.dispatcher = new Dispatcher(crews, foresight, company);
  }

  /**
   * Prepares a session.
   *
   * @param journal takes what happens
   * @param seed decides small delays and the order of equal wishes, and nothing else does
   * @param problems where it is noted that a train cannot come to a place of its list
   * @return empty if there is such a place
   */
  public static Optional<Session> of(
      TrainList list,
      Layout layout,
      ControlTable table,
      Railroad railroad,
      Journal journal,
      long seed,
      Problems problems) {
    return of(list, layout, table, railroad, journal, seed, new Banker(), problems);
  }

  static Optional<Session> of(
      TrainList list,
      Layout layout,
      ControlTable table,
      Railroad railroad,
      Journal journal,
      long seed,
      Foresight foresight,
      Problems problems) {
    List<Itinerary> itineraries = new ArrayList<>();
    for (ListedTrain train : list.trains()) {
      itinerary(train, layout, table, problems).ifPresent(itineraries::add);
    }
    return itineraries.size() == list.trains().size()
        ? Optional.of(new Session(list, layout, itineraries, railroad, journal, seed, foresight))
        : Optional.empty();
  }

  private static Optional<Itinerary> itinerary(
      ListedTrain train, Layout layout, ControlTable table, Problems problems) {
    RouteBook book =
        new RouteBook(new TrackPlan(layout), table, numbering(layout), train.lengthMetres());
    Map<String, String> sectionOfSwitch = new HashMap<>();
    layout.switches().values().forEach(toe -> sectionOfSwitch.put(toe.id(), toe.section()));
    Itinerary.Planner planner =
        new Itinerary.Planner(train, book, numbering(layout), sectionOfSwitch);
    Optional<Itinerary> itinerary = planner.itinerary();
    if (itinerary.isEmpty()) {
      ListedTrain.Named place = planner.outOfReach();
      problems.add(
          place.place(),
          "no way leads '%s' to section '%s' from what comes before it"
              .formatted(train.name(), place.name()),
          "a train stands before a signal, at an end of track, or in a spur; it changes ends only"
              + " before a signal the other way");
    }
    return itinerary;
  }

  private static RouteBook.Numbering numbering(Layout layout) {
    return new RouteBook.Numbering(List.copyOf(layout.sections().keySet()));
  }

  /** Sees how things stand, and does what is to be done now. */
  public void look() {
    Sight sight = railroad.look();
    journal.turnTo(sight.nowNs());
    clock.follow(sight.minuteOfDay());
    if (clock.isKnown()) {
      dispatcher.look(sight);
    }
    lookForMishaps(sight);
    lookForProgress(sight);
  }

  private void lookForMishaps(Sight sight) {
    List<String> mishaps = sight.mishaps();
    for (String mishap : mishaps.subList(mishapsSeen, mishaps.size())) {
      mishapsSeen++;
      journal.note("MISHAP " + mishap);
    }
  }

  private void lookForProgress(Sight sight) {
    boolean progress = false;
    boolean wanted = false;
    for (Crew crew : crews) {
      Progress now = new Progress(crew.duty(), crew.stand(), crew.goal());
      progress |= !now.equals(lastProgress.put(crew, now));
      wanted |= crew.waitsFor().isPresent();
    }
    if (progress || !wanted) {
      progressNs = sight.nowNs();
    } else if (failure.isEmpty() && sight.nowNs() - progressNs > STUCK_NS) {
      fail("no train gets on any more: " + String.join("; ", whoWaits()));
    }
  }

  private List<String> whoWaits() {
    return crews.stream()
        .flatMap(
            crew ->
                crew.waitsFor().stream()
                    .map(why -> "%s at %s: %s".formatted(crew.name(), crew.stand(), why)))
        .toList();
  }

  /** Something is wrong that ends the session; only the first such thing counts. */
  public void fail(String what) {
    if (failure.isEmpty()) {
      failure = Optional.of(what);
      journal.note("FAILED " + what);
    }
  }

  /** What has ended the session before its time. */
  public Optional<String> failure() {
    return failure;
  }

  /** No run begins from now on; those that have begun go on to their end. */
  public void beginNoMore() {
    dispatcher.beginNoMore();
  }

  /** Whether no train is on its run. */
  public boolean isAtRest() {
    return crews.stream().noneMatch(crew -> crew.duty() == Crew.Duty.ON_THE_WAY);
  }

  /** The runs that have begun or should have, in the order of their plan. */
  public List<Run> runs() {
    return crews.stream()
        .flatMap(crew -> crew.runs().stream())
        .filter(run -> run.plannedMinute() <= clock.minutes())
        .sorted(Run.byPlan())
        .toList();
  }

  /** How it went, for people. */
  public String report() {
    SessionReport report = new SessionReport(list.name(), clock, runs());
    Stream<String> numbers =
        Stream.of(
            "%d routes lined, %d cancelled, %d orders refused"
                .formatted(orders.linedCount(), orders.cancelledCount(), orders.refusedCount()),
            "%d times a train was kept back so that all could get to their ends"
                .formatted(dispatcher.keptBackCount()),
            "%d mishaps".formatted(mishapsSeen));
    return report.text(numbers.toList(), failure);
  }

  /** Whether every run that has begun has come to its end, and nothing has gone wrong. */
  public boolean wentWell() {
    return failure.isEmpty()
        && mishapsSeen == 0
        && runs().stream()
            .allMatch(run -> run.beganMinute().isEmpty() || run.endedMinute().isPresent());
  }
}
