/**
 * The simulated railway: trains that run on the track plan, and a virtual node for every board of
 * the layout.
 *
 * <p>In: the track plan, trains, frames from the rest of the bus, and the time. Out: the frames the
 * boards send, and for tests and displays where the trains are and what went wrong. {@link
 * tappet.simulator.Railway} is the one public face. Nothing here knows of routes or rules: only the
 * frames tell the boards what to do, as on the real railroad.
 *
 * <pre>
 *            frames               events                switches, signals
 *   bus  <-----------> Board(s) <---------> Trackside -------------------> Train(s)
 *                                               ^                             |
 *                                               '------- sections occupied ---'
 * </pre>
 *
 * <p>The same calls with the same times give the same frames: there is no clock, no chance and no
 * thread in this package.
 */
package tappet.simulator;
