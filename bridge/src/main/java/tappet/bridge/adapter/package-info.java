/**
 * The adapters: ways in and out of the hub, each a {@link tappet.bridge.hub.Connection}.
 *
 * <pre>
 *   TcpServer ── a TcpPeer for each client ─┐  TextLine, FrameIntake
 *   TcpClient ── reconnects by itself ──────┤  (bytes ◄─► frames)
 *   SerialAdapter ── reopens by itself ─────┤  SerialLink, a SerialCodec for each SerialForm
 *   both, as a draft ── binary messages ────┤  TransferLine, and transfer.Gateway
 *   LocalConnection ── method calls ────────┴──► Hub
 * </pre>
 *
 * <p><b>Comes in:</b> bytes with frames, from sockets and serial devices. <b>Goes out:</b> frames
 * to the hub, and once an outage why a line is down. Half a frame is dropped when its line breaks;
 * a line that cannot keep up with the hub goes down instead of holding up the others or losing
 * frames unseen. <b>Who may call:</b> the daemon's wiring opens and closes adapters from any
 * thread; all else happens on the hub's event loop, and for serial devices on two threads each that
 * only move bytes.
 */
package tappet.bridge.adapter;
