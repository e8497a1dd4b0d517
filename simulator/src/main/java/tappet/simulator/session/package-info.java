/**
 * Train lists: who runs where and when in an operating session, as an owner writes it down.
 *
 * <p>In: a train list and the layout. Out: the trains with their calls, or every mistake in the
 * file with its place. Nothing here runs a train: that takes a dispatcher, who has a signal box.
 */
package tappet.simulator.session;
