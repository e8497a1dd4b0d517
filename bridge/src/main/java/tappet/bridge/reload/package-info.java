/**
 * New files while the daemon runs: they are read, judged and compared with what runs, and take over
 * when nothing stands against it.
 *
 * <p>In come wishes of people, by the desk or the owner's page; out goes, in one message to the
 * box, the interlocking that takes over. Reading, proving and comparing have a thread of their own,
 * and the proof a process of its own, so that the box is not held up.
 */
package tappet.bridge.reload;
