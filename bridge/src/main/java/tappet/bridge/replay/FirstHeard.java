package tappet.bridge.replay;

import java.time.Duration;
import java.util.List;
import tappet.bridge.field.Field;
import tappet.layout.Layout;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.Validity;
import tappet.source.NearNames;

/**
 * For a recording that begins in the middle: whether every device has been heard since, and the
 * time since the start has run. Until then a box that is only just begun cannot say what one did
 * that had been at work for long.
 */
final class FirstHeard {

  private final Field field;
  private final long startNs;
  private long beganNs = Long.MIN_VALUE;
  private boolean news = true;
  private boolean over;

  FirstHeard(Layout layout, Duration start) {
    this.field = new Field(layout);
    this.startNs = start.toNanos();
  }

  void hear(CanFrame frame) {
    Message message = Messages.decode(frame);
    if (message instanceof Message.EventReport report) {
      news |= field.hear(report.event(), Validity.VALID, "").isPresent();
    } else if (message instanceof Message.ProducerIdentified told) {
      news |= field.hearState(told.event(), told.validity(), "").isPresent();
    }
  }

  /** Looks whether it is over now. */
  void look(long nowNs) {
    beganNs = beganNs == Long.MIN_VALUE ? nowNs : beganNs;
    if (nowNs - beganNs >= startNs && news) {
      news = false;
      over = field.unanswered().isEmpty();
    }
  }

  boolean isOver() {
    return over;
  }

  /** What has not been heard of, by the events that would tell. */
  String missing() {
    List<String> events = field.unanswered().stream().map(EventId::toString).toList();
    return events.isEmpty() ? "it is too short" : NearNames.few(events);
  }
}
