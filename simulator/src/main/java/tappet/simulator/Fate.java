package tappet.simulator;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.function.BiFunction;
import tappet.layout.Layout;
import tappet.lcc.EventId;
import tappet.sentence.Happening;
import tappet.sentence.Happening.EmergencyKind;
import tappet.sentence.Happening.Report;
import tappet.sentence.Happening.Reporter;

/** Lets happen on the railway what a sentence says. */
final class Fate {

  /** S-9.7.0.4 §5.2: each kind of emergency, called and cleared. */
  private static final Map<EmergencyKind, List<EventId>> EMERGENCIES =
      Map.of(
          EmergencyKind.OFF,
          List.of(EventId.of("01.00.00.00.00.00.FF.FF"), EventId.of("01.00.00.00.00.00.FF.FE")),
          EmergencyKind.STOP,
          List.of(EventId.of("01.00.00.00.00.00.FF.FD"), EventId.of("01.00.00.00.00.00.FF.FC")));

  /** S-9.7.0.4: the power is below the minimum that the node requires. */
  private static final EventId BROWN_OUT = EventId.of("01.00.00.00.00.00.FF.F1");

  private final Layout layout;
  private final Bus bus;
  private final Trackside trackside;
  private final Trainmaster trainmaster;
  private final Map<Class<?>, BiFunction<Happening, Long, Optional<String>>> deeds =
      new HashMap<>();

  Fate(Layout layout, Bus bus, Trackside trackside, Trainmaster trainmaster) {
    this.layout = layout;
    this.bus = bus;
    this.trackside = trackside;
    this.trainmaster = trainmaster;
    knowDevices();
    knowBoards();
    knowCrews();
    knowTrains();
  }

  /**
   * Lets it happen.
   *
   * @return empty if done, else why not, in an owner's words
   */
  Optional<String> happen(Happening happening, long nowNs) {
    return deeds.get(happening.getClass()).apply(happening, nowNs);
  }

  private void knowDevices() {
    on(Happening.Reports.class, (what, nowNs) -> report(what));
    on(Happening.SpotReports.class, (what, nowNs) -> report(what));
    on(Happening.SectionFlickers.class, (what, nowNs) -> trackside.flicker(what.section(), nowNs));
    on(
        Happening.MotorSticks.class,
        (what, nowNs) -> trackside.machine(what.switchId()).fail(nowNs));
    on(
        Happening.MotorTakes.class,
        (what, nowNs) -> trackside.machine(what.switchId()).take(what.time().toNanos(), nowNs));
    on(
        Happening.MotorIsMended.class,
        (what, nowNs) -> trackside.machine(what.switchId()).mend(nowNs));
    on(
        Happening.BoltSticks.class,
        (what, nowNs) -> trackside.gear().bolt(what.opening()).fail(nowNs));
    on(
        Happening.BoltIsMended.class,
        (what, nowNs) -> trackside.gear().bolt(what.opening()).mend(nowNs));
    on(
        Happening.LampBurnsOut.class,
        (what, nowNs) -> trackside.burnOut(what.signal(), what.lamp(), true, nowNs));
    on(
        Happening.LampIsReplaced.class,
        (what, nowNs) -> trackside.burnOut(what.signal(), what.lamp(), false, nowNs));
    on(Happening.BreakerTrips.class, (what, nowNs) -> trackside.trip(what.district(), true));
    tryOn(Happening.BreakerIsRestored.class, (what, nowNs) -> trackside.restore(what.district()));
    on(
        Happening.SectionIsShorted.class,
        (what, nowNs) -> trackside.shortOut(what.section(), what.shorted()));
  }

  private void knowBoards() {
    on(Happening.BoardFails.class, (what, nowNs) -> board(what.board()).fail(what.fault()));
    on(
        Happening.BoardIsLate.class,
        (what, nowNs) -> board(what.board()).delay(what.delay().toNanos()));
    on(Happening.BoardFallsSilent.class, (what, nowNs) -> board(what.board()).silence());
    on(Happening.BoardSpeaksAgain.class, (what, nowNs) -> board(what.board()).restore(nowNs));
    on(Happening.BoardReboots.class, (what, nowNs) -> board(what.board()).reboot(nowNs));
    on(Happening.BoardBrownsOut.class, (what, nowNs) -> brownOut(what.board(), nowNs));
    on(Happening.AliasClashes.class, (what, nowNs) -> bus.clash(board(what.board())));
    tryOn(Happening.Emergency.class, (what, nowNs) -> call(what));
  }

  private void knowCrews() {
    tryOn(
        Happening.CrewThrows.class,
        (what, nowNs) -> trackside.throwByCrew(what.switchId(), what.position()));
    on(
        Happening.CrewForces.class,
        (what, nowNs) -> trackside.throwByHand(what.switchId(), what.position()));
    on(Happening.CrewAsks.class, (what, nowNs) -> trackside.ask(what.switchId(), what.position()));
    on(Happening.CrewBreaksLock.class, (what, nowNs) -> trackside.breakLock(what.switchId()));
    on(
        Happening.OpeningIsOpened.class,
        (what, nowNs) -> trackside.gear().open(what.opening(), true));
    on(
        Happening.OpeningIsClosed.class,
        (what, nowNs) -> trackside.gear().open(what.opening(), false));
    on(
        Happening.ButtonIs.class,
        (what, nowNs) -> trackside.gear().press(what.button(), what.pressed()));
    tryOn(
        Happening.CableIs.class,
        (what, nowNs) -> Optional.of("the cable leads off the railway; it is not to be had here"));
    tryOn(
        Happening.DaemonIs.class,
        (what, nowNs) -> Optional.of("the daemon is no part of the railway"));
  }

  private void knowTrains() {
    tryOn(Happening.TrainIsLifted.class, (what, nowNs) -> trainmaster.lift(what.train()));
    on(
        Happening.Engineer.class,
        (what, nowNs) -> trainmaster.obeySignals(what.train(), what.obeys()));
    on(Happening.TrainLosesBrakes.class, (what, nowNs) -> trainmaster.loseBrakes(what.train()));
  }

  private <H extends Happening> void on(Class<H> kind, BiConsumer<H, Long> deed) {
    tryOn(
        kind,
        (what, nowNs) -> {
          deed.accept(what, nowNs);
          return Optional.empty();
        });
  }

  private <H extends Happening> void tryOn(
      Class<H> kind, BiFunction<H, Long, Optional<String>> deed) {
    deeds.put(kind, (what, nowNs) -> deed.apply(kind.cast(what), nowNs));
  }

  private void report(Happening.Reports what) {
    Map<String, EventId> events = ReportedEvents.of(layout, what.reporter(), what.id());
    if (what.report() instanceof Report.Truth) {
      if (what.reporter() == Reporter.SECTION) {
        trackside.steady(what.id());
      }
      bus.reportTruly(events.values());
    } else {
      bus.misreport(events.values(), told(what.report(), events));
    }
  }

  private static Collection<EventId> told(Report report, Map<String, EventId> events) {
    if (report instanceof Report.Of one) {
      return List.of(Trackside.known("report", one.state(), events));
    }
    return report instanceof Report.Both ? events.values() : List.of();
  }

  private void report(Happening.SpotReports what) {
    var spot = Trackside.known("spot", what.spot(), layout.lineside().spots());
    bus.report(Trackside.known("report", what.way(), spot.tells()));
  }

  private void brownOut(String id, long nowNs) {
    Board board = board(id);
    board.speak(BROWN_OUT);
    board.silence();
    trackside.brownOut(event -> event.allocatedBy().equals(board.id()), nowNs);
  }

  /** Any node may call an emergency: the first board that can speak does. */
  private Optional<String> call(Happening.Emergency what) {
    EventId event = EMERGENCIES.get(what.kind()).get(what.called() ? 0 : 1);
    Optional<Board> caller = bus.boards().stream().filter(Board::isReady).findFirst();
    caller.ifPresent(board -> board.speak(event));
    return caller.isPresent() ? Optional.empty() : Optional.of("no board can speak");
  }

  private Board board(String id) {
    return bus.board(Trackside.known("board", id, layout.boards()).node());
  }
}
