/**
 * The daemon as a node among others: which boards answer, and what the daemon tells of itself.
 *
 * <p>In: frames and the time. Out: boards lost and found, and nodes to ask. Only the box calls it.
 * How a node behaves on the bus is in {@code tappet.lcc}, since simulated boards behave the same.
 */
package tappet.bridge.node;
