/** What a proof has found: for people, for programs, and kept for the next start. */
package tappet.bridge.proof;
