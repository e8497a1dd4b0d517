package tappet.simulator;

import java.util.HashSet;
import java.util.Set;
import java.util.function.LongConsumer;
import tappet.layout.GradeCrossing;
import tappet.layout.Heartbeat;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.lcc.EventId;

/** Lets each board with signals or grade crossings watch the daemon's heartbeat. */
final class HeartbeatWiring {

  private final Bus bus;
  private final Trackside trackside;
  private final LongConsumer looksOther;

  /**
   * @param looksOther is told when signals may look other than before
   */
  HeartbeatWiring(Bus bus, Trackside trackside, LongConsumer looksOther) {
    this.bus = bus;
    this.trackside = trackside;
    this.looksOther = looksOther;
  }

  void wire(Layout layout) {
    layout.heartbeat().ifPresent(heartbeat -> wire(heartbeat, proceeding(layout)));
  }

  private void wire(Heartbeat heartbeat, Set<EventId> proceeding) {
    for (Board board : bus.boards()) {
      if (proceeding.stream().anyMatch(board::owns)) {
        wire(board, heartbeat, proceeding);
      }
    }
  }

  private void wire(Board board, Heartbeat heartbeat, Set<EventId> proceeding) {
    HeartbeatWatch watch =
        new HeartbeatWatch(
            heartbeat.lostAfter().toNanos(),
            proceeding,
            nowNs -> {
              trackside.fallToStop(board::owns, nowNs);
              looksOther.accept(nowNs);
            });
    board.consume(heartbeat.event(), watch::hear, watch::isHeard);
    board.watch(watch);
  }

  /** All that could let a train or the traffic of a road go on. */
  private static Set<EventId> proceeding(Layout layout) {
    Set<EventId> events = new HashSet<>();
    layout.signals().values().forEach(signal -> addProceeding(signal, events));
    layout.lineside().crossings().values().stream().map(GradeCrossing::rest).forEach(events::add);
    return events;
  }

  private static void addProceeding(Signal signal, Set<EventId> events) {
    signal
        .shows()
        .forEach(
            (aspect, event) -> {
              if (!aspect.equals(Signal.STOP)) {
                events.add(event);
              }
            });
    signal.dark().ifPresent(events::add);
    signal.lights().map(Lights::lamps).stream()
        .flatMap(lamps -> lamps.stream())
        .forEach(lamp -> addAll(lamp, events));
  }

  private static void addAll(SignalLamp lamp, Set<EventId> events) {
    events.add(lamp.lit());
    events.add(lamp.dark());
    lamp.flashing().ifPresent(events::add);
  }
}
