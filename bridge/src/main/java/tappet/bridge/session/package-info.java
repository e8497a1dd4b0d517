/**
 * Operating sessions: trains that run by a list, a dispatcher who lines their routes, and crews.
 *
 * <p>In: a train list, layout and control table, and a {@link tappet.bridge.session.Railroad} to
 * run them on, on virtual time or in the running daemon. Out: a journal and a report. The
 * dispatcher asks the box as people do and obeys its refusals; nothing here reads a clock or has a
 * thread.
 *
 * <pre>
 *  train list ─→ itinerary ─┐
 *  layout, rows ─→ routes ──┴─→ dispatcher ─→ commands ─→ railroad
 *                                 │   ↑                      │
 *                               banker└──────── sight ───────┘
 * </pre>
 */
package tappet.bridge.session;
