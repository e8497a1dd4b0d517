package tappet.bridge.record;

/**
 * Something in a recording.
 *
 * @param timeUs when it was, in microseconds since 1970-01-01 00:00 UTC, 0 or more
 * @param item what it was
 * @param line the line of the file, from 1; 0 where it has not been read from one
 */
public record Entry(long timeUs, Item item, int line) {}
