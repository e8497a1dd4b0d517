package tappet.bridge.box;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import tappet.layout.Heartbeat;
import tappet.lcc.EventId;

/** Sends the heartbeat that boards watch, from the box itself: one that stalls is silent. */
final class HeartbeatSender {

  private final Optional<Heartbeat> heartbeat;
  private final Consumer<EventId> report;
  private OptionalLong sentNs = OptionalLong.empty();

  /**
   * @param heartbeat what is sent; empty: nothing ever is
   */
  HeartbeatSender(Optional<Heartbeat> heartbeat, Consumer<EventId> report) {
    this.heartbeat = heartbeat;
    this.report = report;
  }

  /** The events that it sends. */
  List<EventId> produced() {
    return heartbeat.map(Heartbeat::event).stream().toList();
  }

  /** Sends one now, before what boards obey only while they hear it. */
  void beat(long nowNs) {
    heartbeat.ifPresent(
        known -> {
          report.accept(known.event());
          sentNs = OptionalLong.of(nowNs);
        });
  }

  /** When the next one is due; empty before the first. */
  OptionalLong deadlineNs() {
    return heartbeat.isPresent() && sentNs.isPresent()
        ? OptionalLong.of(sentNs.getAsLong() + heartbeat.get().every().toNanos())
        : OptionalLong.empty();
  }

  /** Whether the next one is due. */
  boolean isDue(long nowNs) {
    OptionalLong due = deadlineNs();
    return due.isPresent() && due.getAsLong() <= nowNs;
  }

  /** Whether the last one is so long ago that boards may have put their signals to Stop. */
  boolean wasMissed(long nowNs) {
    return heartbeat.isPresent()
        && sentNs.isPresent()
        && nowNs - sentNs.getAsLong() >= heartbeat.get().lostAfter().toNanos();
  }

  /** No more are sent: the railroad is not watched any longer. */
  void end() {
    sentNs = OptionalLong.empty();
  }
}
