/**
 * The journal: all that the box takes in, says and does, in one SQLite file that any SQL tool can
 * read. {@code config/journal.md} describes it for owners.
 *
 * <pre>
 *   box ──► Journal ──► queue ──► its own thread ──► JournalBook ──► JournalFile ──► Database
 *                                                                     Rotation ──┘
 *   command line, pages ◄── Telling ◄── JournalReader ◄── Database, opened to read only
 * </pre>
 *
 * <p><b>Comes in:</b> what the box tells its listeners; what people ask of the past. <b>Goes
 * out:</b> rows, and lines for people and programs. <b>Who may call:</b> the box's thread where it
 * says so, else the daemon's wiring and the command line; the file is touched on threads of this
 * package, or of the command that asks.
 */
package tappet.bridge.journal;
