/**
 * Rehearsal: the whole railroad on virtual time, and scenarios that are run on it.
 *
 * <p>In: layout, control table, scenarios. Out: for each whether it went as expected, and where it
 * did not, what was seen instead and why. The box and the simulated railway are the very ones that
 * run elsewhere, joined frame by frame; there is no clock and no thread.
 */
package tappet.bridge.rehearsal;
