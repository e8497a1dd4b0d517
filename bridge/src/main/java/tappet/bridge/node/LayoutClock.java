package tappet.bridge.node;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import tappet.interlocking.Answer;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockReading;
import tappet.network.Explanation;
import tappet.sentence.Command;

/** The layout's clock (S-9.7.4.5), as far as the daemon has to do with one. */
public sealed interface LayoutClock permits NoClock, GeneratedClock, FollowedClock {

  /** The word people ask about the clock by. */
  String NAME = "clock";

  /** The clock an owner wants. */
  static LayoutClock of(ClockPlan plan, Surroundings surroundings) {
    if (plan instanceof ClockPlan.Run run) {
      return new GeneratedClock(run, surroundings);
    }
    if (plan instanceof ClockPlan.Follow follow) {
      return new FollowedClock(follow.clock(), surroundings);
    }
    return new NoClock();
  }

  /** Ranges of which the daemon's node may report any event (§6.1). */
  default List<EventRange> producedRanges() {
    return List.of();
  }

  /** Ranges of which the daemon's node acts on any event (§6.1). */
  default List<EventRange> consumedRanges() {
    return List.of();
  }

  /** Single events that the daemon's node reports. */
  default List<EventId> produced() {
    return List.of();
  }

  /** Whether an event of the clock is what it shows now. */
  default Validity producerState(EventId event, long nowNs) {
    return Validity.UNKNOWN;
  }

  /** The node may speak: for the first time, or to somebody new. */
  default void speak(long nowNs) {}

  /** A frame has come in by a connection. One that is not about the clock costs no garbage. */
  default void hear(CanFrame frame, String connection, long nowNs) {}

  /** A connection is lost: what came by it is not known. */
  default void lose(String connection, long nowNs) {}

  /** Nothing that came in can be trusted. */
  default void loseAll(long nowNs) {}

  /** Does what is due. */
  default void advance(long nowNs) {}

  /** When {@link #advance} is next needed. */
  default OptionalLong deadlineNs() {
    return OptionalLong.empty();
  }

  /** What it shows; empty where that is not known. */
  default Optional<ClockReading> reading() {
    return Optional.empty();
  }

  /** Whether there is one that can be asked about. */
  default boolean exists() {
    return true;
  }

  /** Does what a person asks of the clock, or says why not. */
  Answer tell(Command.OfClock order, long nowNs);

  /** What the clock shows, and who generates it. */
  Explanation why(long nowNs);
}
