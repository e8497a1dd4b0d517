package tappet.simulator.scenario;

import java.util.Collection;
import tappet.layout.Layout;

/**
 * The names that a scenario can use.
 *
 * @param layout whose devices can be named
 * @param routes the rows of the control table
 * @param lines the lines between control points
 */
public record Names(Layout layout, Collection<String> routes, Collection<String> lines) {}
