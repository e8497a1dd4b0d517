/**
 * The one network of named boolean equations that runs, is proven and explains.
 *
 * <p>Inputs come from outside; latches remember, each with a set and a reset equation, and all
 * change together at the end of a tick; equations are combinational and form a graph without
 * circles. A step is: inputs change, then ticks follow until no latch changes any more.
 *
 * <pre>
 *   inputs ──┐
 *            ├──► equations ──► set, reset ──► latches (next tick)
 *   latches ─┘         └──────► outputs
 * </pre>
 *
 * <p>{@link tappet.network.NetworkBuilder} takes the equations, {@link tappet.network.Network} is
 * the finished object, {@link tappet.network.Stepper} runs it at a cost that follows what changed,
 * {@link tappet.network.Timers} keeps the times it asks for. Nothing here knows a railway.
 */
package tappet.network;
