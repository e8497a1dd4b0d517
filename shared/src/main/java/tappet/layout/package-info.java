/**
 * The layout: the track plan and its wiring, read from the owner's {@code layout.yaml}.
 *
 * <p>In: a layout file. Out: a {@link tappet.layout.Layout}, or every mistake of the file. Joints
 * are the places where sections meet; sections, switch legs and signals refer to them, which makes
 * the plan a graph ({@link tappet.layout.TrackPlan}) that routes are derived from, trains run on
 * and the page is drawn from.
 */
package tappet.layout;
