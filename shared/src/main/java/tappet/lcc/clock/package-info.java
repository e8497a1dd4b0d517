/**
 * Broadcast time (S-9.7.4.5): the events of a layout's clock, the one node that generates it, and
 * those that follow it. Both are stepped with the time as an argument, in nanoseconds from any
 * origin, and speak through a {@link tappet.lcc.clock.ClockVoice}.
 *
 * <pre>
 *   EventId ◄── ClockId ──► ClockEvent ──► ClockGenerator ──► sync sequence, reports
 *                                     └──► ClockFollower  ──► ClockReading
 * </pre>
 */
package tappet.lcc.clock;
