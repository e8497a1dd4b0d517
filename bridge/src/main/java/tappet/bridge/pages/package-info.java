/**
 * The pages for dispatcher, crews, wall and owner, and the interface they use, which is open to any
 * other program: {@code /api/openapi.json} describes it.
 *
 * <pre>
 *   browser ──► Pages ──► PageHandler ──► StaticFiles
 *                             │ sentences and questions ──► Office (the box)
 *                             └ /api/live ──► LiveFeed ◄── Sight (taken from the box when it changed)
 * </pre>
 *
 * <p>Everybody in the owner's network may look. Who commands has entered with a role's PIN, holds
 * the territory, and sends a token that no other site can know. <b>Who may call:</b> the daemon's
 * wiring; all else runs on the event loop of the pages.
 */
package tappet.bridge.pages;
