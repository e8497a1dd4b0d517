package tappet.rules;

import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * A condition that an owner demands of a signal, whatever the route.
 *
 * @param signal the signal
 * @param condition what must be true for it to clear
 * @param place where it stands
 */
public record SignalNeed(String signal, Condition condition, Place place) {}
