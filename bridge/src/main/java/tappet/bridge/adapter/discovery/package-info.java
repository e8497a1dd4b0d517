/**
 * Finding hubs in the local network without typing addresses, by multicast DNS.
 *
 * <p><b>Comes in:</b> what is to be announced. <b>Goes out:</b> the hubs heard of. <b>Who may
 * call:</b> the daemon's wiring, from any thread; no call blocks, and a machine without a network
 * is no error.
 */
package tappet.bridge.adapter.discovery;
