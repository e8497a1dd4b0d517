package tappet.rules;

import tappet.sentence.Condition;
import tappet.source.Place;

/**
 * A lamp that is lit while a condition is known to hold.
 *
 * @param lamp the lamp
 * @param when the condition
 * @param place where it stands
 */
public record Indicator(String lamp, Condition when, Place place) {}
