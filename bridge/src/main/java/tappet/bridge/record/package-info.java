/**
 * Recordings of the frames on the bus, in the log format of Linux' can-utils, so that any tool for
 * such logs reads them and any such log can be played back.
 *
 * <pre>
 *   Hub ──► FrameRecorder ──► queue ──► its own thread ──► file
 *   Hub ◄── FramePlayer   ◄── its own thread at some Pace ◄── file
 * </pre>
 *
 * <p><b>Comes in:</b> frames of the hub, or lines of a file. <b>Goes out:</b> lines of a file, or
 * frames to the hub. <b>Who may call:</b> the daemon's wiring, from any thread but the hub's event
 * loop; files are touched on threads of this package only.
 */
package tappet.bridge.record;
