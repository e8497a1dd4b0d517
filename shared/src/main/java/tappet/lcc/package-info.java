/**
 * LCC on the wire: frames, their text form, identifiers, messages, and the two state machines every
 * node has (alias reservation, S-9.7.2.1; message network, S-9.7.3). Values and pure functions
 * only; time is an argument and bytes come from and go to whoever calls.
 *
 * <pre>
 *   bytes ── FrameTextReader ──► CanFrame ── LccNode (AliasLink, Message) ──► events heard
 *   bytes ◄──── FrameText ────── CanFrame ◄─────────────────────────────────── events told
 * </pre>
 */
package tappet.lcc;
