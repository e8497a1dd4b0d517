package tappet.bridge.journal;

/**
 * A thing with the clocks that there are.
 *
 * @param boxUs the box's time since it began, in microseconds; never runs back
 * @param wallUs the time of day, in microseconds since 1970-01-01 00:00 UTC; may jump
 * @param minute of the layout's day, 0 to 1439; {@value #NO_MINUTE} where none is known
 */
record Line(long boxUs, long wallUs, int minute, Kept what) {

  static final int NO_MINUTE = -1;
}
