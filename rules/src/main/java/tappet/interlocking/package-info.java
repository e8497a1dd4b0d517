/**
 * The interlocking: the control table compiled into the network, and its public face.
 *
 * <p>In: what the field reports, what people ask, and the time. Out: the aspects signals are to
 * show, the positions switches are to take, alarms, and answers with reasons. {@link
 * tappet.interlocking.Interlocking} is the only class others need.
 *
 * <p>Each kind of device has a circuit, a class that declares its variables and writes its
 * equations: {@code SectionCircuit}, {@code SwitchCircuit}, {@code RouteCircuit}, {@code
 * SignalCircuit}. A new kind of protection is a new circuit or a further equation in one of these;
 * there is no logic outside the network.
 */
package tappet.interlocking;
