package tappet.rules;

import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * When the lamps of a signal are lit.
 *
 * @param signal the signal
 * @param when what must be known not to hold for them to be dark
 * @param place where it stands
 */
public record SignalLight(String signal, Condition when, Place place) {}
