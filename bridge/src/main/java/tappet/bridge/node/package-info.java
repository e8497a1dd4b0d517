/**
 * The daemon as a node among others: which boards answer, what nodes tell of themselves, the
 * layout's clock, and what the daemon tells of itself.
 *
 * <p>In: frames and the time. Out: boards lost and found, nodes to ask, alarms, and the minute that
 * the clock shows. Only the box calls it. How a node behaves on the bus is in {@code tappet.lcc},
 * since simulated boards behave the same.
 */
package tappet.bridge.node;
