/**
 * The hub: what one connection says, every other one hears; but visitors are not heard, and a bus
 * that is only overheard is told nothing ({@link tappet.bridge.hub.Access}). It copies frames,
 * control frames too, and alters none, so all connections together are one segment (TN-9.7.2.1 §3).
 *
 * <pre>
 *   serial ──┐            ┌──► every other connection, once and in order
 *   TCP    ──┼──► Hub ────┤
 *   daemon ──┘            └──► HubListener (the daemon's box)
 * </pre>
 *
 * <p><b>Comes in:</b> frames from the connections and from the daemon's own node. <b>Goes out:</b>
 * the same frames, and the news of connections going up and down. <b>Who may call:</b> anybody,
 * from any thread. Everything happens on the hub's one event loop; a call from another thread is
 * handed over as one task, so what one thread says keeps its order.
 */
package tappet.bridge.hub;
