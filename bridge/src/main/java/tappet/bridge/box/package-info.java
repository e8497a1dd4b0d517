/**
 * The signal box: the one place where anything changes the interlocking.
 *
 * <p>In: frames from the hub, connections coming and going, what people ask. Out: frames to the
 * hub, and to whoever listens what has changed. {@link tappet.bridge.box.SignalBox} does the work
 * and has no thread and no clock; {@link tappet.bridge.box.BoxThread} is the thread, the clock and
 * the queue before it, which everyone else talks to.
 *
 * <pre>
 *   hub, web ──► queue ──► BoxThread ──► SignalBox ( LccNode ─► Field ─► Interlocking ─► Field ─► LccNode )
 * </pre>
 */
package tappet.bridge.box;
