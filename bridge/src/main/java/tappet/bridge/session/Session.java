package tappet.bridge.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import tappet.simulator.session.ListedTrain;

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

  private final String name;
  private final Railroad railroad;
  private final Journal journal;
  private final FastTime clock = new FastTime();
  private final Orders orders;
  private final List<Crew> crews = new ArrayList<>();
  private final Dispatcher dispatcher;
  private final Map<Crew, Progress> lastProgress = new HashMap<>();
  private long progressNs;
  private int mishapsSeen;
  private long lastMinute = Long.MAX_VALUE;
  private Optional<String> failure = Optional.empty();

  /** What changes where a train gets on. */
  private record Progress(Crew.Duty duty, Stand stand, int goal) {}

  /**
   * A session that has not begun.
   *
   * @param journal takes what happens
   * @param seed decides small delays and the order of equal wishes, and nothing else does
   */
  public Session(SessionPlan plan, Railroad railroad, Journal journal, long seed) {
    this(plan, railroad, journal, seed, new Banker());
  }

  Session(SessionPlan plan, Railroad railroad, Journal journal, long seed, Foresight foresight) {
    this.name = plan.list().name();
    this.railroad = railroad;
    this.journal = journal;
    this.orders = new Orders(railroad, journal);
    Crew.Company company =
        new Crew.Company(
            plan.layout(),
            plan.table(),
            RouteBook.Numbering.of(plan.layout()),
            orders,
            journal,
            new Chance(seed),
            clock);
    for (int number = 0; number < plan.itineraries().size(); number++) {
      ListedTrain train = plan.list().trains().get(number);
      crews.add(new Crew(train, number, plan.itineraries().get(number), company));
    }
    this.dispatcher = new Dispatcher(crews, foresight, company);
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
      progress |= crew.isAtWork();
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

  /**
   * No run begins from now on, but of trains that stand in the way of those that have begun; these
   * go on to their end.
   */
  public void beginNoMore() {
    dispatcher.beginNoMore();
    lastMinute = clock.minutes();
  }

  /** Whether no train is on its run. */
  public boolean isAtRest() {
    return crews.stream().noneMatch(crew -> crew.duty() == Crew.Duty.ON_THE_WAY);
  }

  /** The runs that have begun or should have, in the order of their plan. */
  public List<Run> runs() {
    return crews.stream()
        .flatMap(crew -> crew.runs().stream())
        .filter(run -> run.beganMinute().isPresent() || isListed(run))
        .sorted(Run.byPlan())
        .toList();
  }

  private boolean isListed(Run run) {
    return run.plannedMinute() <= Math.min(clock.minutes(), lastMinute);
  }

  /** How it went, for people. */
  public String report() {
    SessionReport report = new SessionReport(name, clock, runs());
    Stream<String> numbers =
        Stream.of(
            "%d routes lined, %d cancelled, %d orders refused"
                .formatted(orders.linedCount(), orders.cancelledCount(), orders.refusedCount()),
            "%d times a train was kept back so that all could get to their ends"
                .formatted(dispatcher.keptBackCount()),
            "%d mishaps".formatted(mishapsSeen),
            "times of day are the fast clock's; who waited did so in seconds of the railroad");
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
