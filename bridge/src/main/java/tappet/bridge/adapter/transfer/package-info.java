/**
 * The native binary form of messages over TCP. <b>Draft</b>: OpenLCB-TCP Transfer (TCP-S (draft),
 * Preliminary, 2021-04-30) is not adopted and may change; nothing else of the program relies on it.
 *
 * <pre>
 *   bytes ──► TransferReader ──► Transfer ──► PartJoiner ──► message ──► Gateway ──► frames
 *   bytes ◄── Transfer.encode ◄───────────────────────────── message ◄── Gateway ◄── frames
 * </pre>
 *
 * <p><b>Comes in:</b> bytes, however cut. <b>Goes out:</b> values. Nothing here opens a socket or
 * asks a clock. Link control messages are named by the draft but given no layout, so they are
 * counted and skipped (TCP-S (draft) §4.1, §6.1, §7).
 */
package tappet.bridge.adapter.transfer;
