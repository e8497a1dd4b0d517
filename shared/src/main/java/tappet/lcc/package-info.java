/**
 * LCC on the wire: frames, their text form, identifiers, messages, and the node that speaks them.
 * Values and pure functions only; time is an argument and bytes come from and go to whoever calls.
 *
 * <pre>
 *   bytes ── FrameTextReader ──► CanFrame ──► LccNode ──► Application: events, states, names
 *   bytes ◄──── FrameText ────── CanFrame ◄──    │   ──► DatagramService: memory and more
 *                                                │
 *      AliasLink, AliasMap      who is who       │   frame transfer, S-9.7.2.1
 *      Announcements, Pace      what can wait    │   event transport, S-9.7.3.1
 *      DatagramDesk             longer matters   │   datagrams, S-9.7.3.2
 *      InformationDesk          names, versions  │   simple node information, S-9.7.4.3
 * </pre>
 *
 * <p>What builds on these has a package of its own: {@code memory} (S-9.7.4.2) and {@code clock}
 * (S-9.7.4.5).
 */
package tappet.lcc;
