/**
 * Replay: a recorded session, lived through by another box on virtual time.
 *
 * <p>In: a recording, layout, control table. Out: what the box says otherwise than the recorded one
 * did, and the recording as a scenario. There is no clock and no thread.
 */
package tappet.bridge.replay;
