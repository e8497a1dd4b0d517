package tappet.layout;

import tappet.source.Place;

/**
 * A place on the plan where tracks meet or end. It is insulated where two sections meet, a bare
 * point of the drawing where both sides lie in one section, and the end of track where nothing
 * follows.
 *
 * @param id the owner's identifier
 * @param x across the drawn plan, growing to the east, in units of the plan
 * @param y up the drawn plan, in units of the plan
 * @param place where it stands in the layout file
 */
public record Joint(String id, double x, double y, Place place) {}
