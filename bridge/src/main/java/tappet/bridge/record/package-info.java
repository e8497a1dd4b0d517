/**
 * Recordings of what the box takes in and says, in the log format of Linux' can-utils, so that any
 * tool for such logs reads the frames and any such log can be played back. What is no frame (what
 * people asked and were told, connections, who was protected at the start, the store of
 * protections) stands in remarks, which such tools pass over. A {@link tappet.bridge.record.Scribe}
 * takes it all down for whatever {@link tappet.bridge.record.Book} there is; the journal is
 * another.
 *
 * <pre>
 *   box ──► SessionRecorder ──► queue ──► its own thread ──► file ──► RecordingReader
 *   Hub ◄── FramePlayer     ◄── its own thread at some Pace ◄── file
 * </pre>
 *
 * <p><b>Comes in:</b> what the box tells its listeners, or lines of a file. <b>Goes out:</b> lines
 * of a file, sessions that have been read, or frames to the hub. <b>Who may call:</b> the box's
 * thread where it says so, else the daemon's wiring and the command line; files are written on
 * threads of this package only.
 */
package tappet.bridge.record;
