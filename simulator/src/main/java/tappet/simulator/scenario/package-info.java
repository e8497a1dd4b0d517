/**
 * Scenarios: what an owner expects of the railroad, written down to be rehearsed.
 *
 * <p>In: a scenario file and those it includes, the layout, and the names of routes and lines. Out:
 * the scenario as steps, or every mistake in it with its place. Nothing here runs one: that takes a
 * signal box besides the railway.
 */
package tappet.simulator.scenario;
