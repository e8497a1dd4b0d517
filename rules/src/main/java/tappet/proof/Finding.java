package tappet.proof;

/**
 * What the proof found of one property.
 *
 * @param said whether its premise was seen to come true: where it never can, the property holds for
 *     no good reason
 */
public record Finding(Property property, Verdict verdict, boolean said) {}
