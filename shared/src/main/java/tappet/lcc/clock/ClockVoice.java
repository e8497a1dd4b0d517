package tappet.lcc.clock;

import tappet.lcc.EventId;

/** How a clock speaks on the bus. */
public interface ClockVoice {

  /** Reports the event. */
  void report(EventId event);

  /** Sends Producer Identified Valid for the event. */
  void identify(EventId event);
}
