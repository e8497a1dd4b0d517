package tappet.bridge.node;

import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;

/** What an owner wants of the layout's clock. */
public sealed interface ClockPlan {

  /** There is none. */
  record None() implements ClockPlan {}

  /** Tappet generates it: it runs from the start of the daemon. */
  record Run(FastClock clock, Rate rate, Time time) implements ClockPlan {}

  /** Another node generates it. */
  record Follow(FastClock clock) implements ClockPlan {}
}
