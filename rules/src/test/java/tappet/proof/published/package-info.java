/**
 * Interlockings that others have published, built from what they say and put before the proof.
 *
 * <p>Three of them are machines of their own, made into networks by a {@code Machine}: {@code
 * TrainSystem} (its states are counted by an {@code EventSearch}), {@code RequestBlocks}, and the
 * relays of a tram junction, {@code RelayEquations}, which {@code Trams} run by and {@code
 * BoundEquations} puts under Tappet's own properties. All five are control tables as well: {@code
 * PublishedTablesTest} proves what Tappet makes of them.
 */
package tappet.proof.published;
