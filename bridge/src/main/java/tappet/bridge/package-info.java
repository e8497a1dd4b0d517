/**
 * The daemon: wiring and command line.
 *
 * <p>Read the packages below in the order of the data: {@code adapter} (bytes to frames), {@code
 * hub} (frames to everyone), {@code box} (the one thread that may change anything, with the node
 * and the interlocking), {@code field} (events to inputs, outputs to events), {@code web} (what
 * people ask). {@code Daemon} puts them together: {@code RailSide} has the hub and the ways to the
 * layout, {@code BoxRoom} the box with what it remembers and writes down, {@code PeopleSide} desk,
 * pages and broker, {@code HealthWatch} whoever looks after the daemon itself.
 */
package tappet.bridge;
