/**
 * The daemon: wiring and command line.
 *
 * <p>Read the packages below in the order of the data: {@code adapter} (bytes to frames), {@code
 * hub} (frames to everyone), {@code box} (the one thread that may change anything, with the node
 * and the interlocking), {@code field} (events to inputs, outputs to events), {@code web} (what
 * people ask).
 */
package tappet.bridge;
