package tappet.bridge.box;

import java.util.List;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.Supplier;
import tappet.bridge.field.Field;
import tappet.lcc.EventId;

/** Asks devices how they are, and those that do not answer again and again. */
final class Inquiry {

  /** How often devices that have not answered are asked again. */
  private static final long AGAIN_NS = 5_000_000_000L;

  private static final long NEVER = Long.MAX_VALUE;

  private final Supplier<Field> field;
  private final Consumer<EventId> ask;
  private final Runnable allHaveAnswered;
  private long againNs = NEVER;

  /**
   * @param field knows who has answered; another one may take its place
   * @param ask asks who produces an event, as soon as the node comes to it
   * @param allHaveAnswered is run when nobody is left to be asked
   */
  Inquiry(Supplier<Field> field, Consumer<EventId> ask, Runnable allHaveAnswered) {
    this.field = field;
    this.ask = ask;
    this.allHaveAnswered = allHaveAnswered;
  }

  /**
   * Asks every device, at the node's pace, and again those that do not answer. To do so often puts
   * off nothing: those who have answered meanwhile are not waited for.
   */
  void askAll(long nowNs) {
    field.get().reports().forEach(ask);
    goOnSoon(nowNs);
  }

  /** Something is unknown that may be told by itself; who has not done so by then is asked. */
  void goOnSoon(long nowNs) {
    goOn(nowNs + AGAIN_NS);
  }

  /** Devices of which nothing is known are asked at this time at the latest. */
  void goOn(long atNs) {
    againNs = Math.min(againNs, atNs);
  }

  void advance(long nowNs) {
    if (nowNs >= againNs) {
      askUnanswered(nowNs);
    }
  }

  private void askUnanswered(long nowNs) {
    List<EventId> unanswered = field.get().unanswered();
    unanswered.forEach(ask);
    if (unanswered.isEmpty()) {
      allHaveAnswered.run();
    }
    againNs = unanswered.isEmpty() ? NEVER : nowNs + AGAIN_NS;
  }

  /** When {@link #advance} is next needed. */
  OptionalLong deadlineNs() {
    return againNs == NEVER ? OptionalLong.empty() : OptionalLong.of(againNs);
  }
}
