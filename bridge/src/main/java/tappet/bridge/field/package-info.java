/**
 * The field: between events on the bus and what the interlocking knows and wants.
 *
 * <p>In: events heard, with the connection they came by, and the outputs of the interlocking. Out:
 * inputs for the interlocking, and the events to tell. A device whose connection is lost, or whose
 * board denies what it had reported, is unknown until it reports again. Only the box calls it.
 */
package tappet.bridge.field;
