package tappet.network;

/**
 * A variable that remembers: at the end of a tick it is false if {@code reset}, else true if {@code
 * set}, else what it was.
 *
 * @param variable the latch
 * @param set when it becomes true
 * @param reset when it becomes false; wins over {@code set}
 * @param initially its value before the first tick
 */
public record Latch(Variable variable, Expression set, Expression reset, boolean initially) {}
