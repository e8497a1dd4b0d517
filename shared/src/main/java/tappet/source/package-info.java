/**
 * The owner's files as text with places: where something stands, what is wrong with it, what was
 * probably meant.
 *
 * <p>In: a YAML text and its file name. Out: a tree in which every value knows its line and column,
 * and problems that print as {@code file:line:column: what is wrong; what was meant}. Readers of
 * layout, rules and settings build on it; nothing here knows a railway.
 */
package tappet.source;
