/**
 * What people see of the railroad, as values.
 *
 * <pre>
 *   SignalBox ──► SightTaker ──► Sight ──► SightJson ──► pages
 *   people ──► ChartBook (names of trains, alarms seen, what crews ask)
 * </pre>
 *
 * <p><b>Comes in:</b> the box as it is, on its thread. <b>Goes out:</b> {@link
 * tappet.bridge.view.Sight}s that never change, and text made of them. <b>Who may call:</b> the
 * box's thread alone, where a class does not say otherwise. Nothing here decides anything about
 * signals.
 */
package tappet.bridge.view;
