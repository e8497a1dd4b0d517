package tappet.network;

/**
 * A named boolean of a network.
 *
 * @param index its number in the network, from 0
 * @param kind where its value comes from
 * @param name the name for people: kind, element, role
 * @param words what it says when true and when false
 */
public record Variable(int index, Kind kind, String name, Words words) {

  /** Where a value comes from. */
  public enum Kind {
    /** Set from outside before a step. */
    INPUT,
    /** True in the first tick of one step only, such as a command. */
    PULSE,
    /** Remembers; changes at the end of a tick. */
    LATCH,
    /** Follows from inputs and latches at once. */
    EQUATION
  }

  @Override
  public boolean equals(Object other) {
    return this == other;
  }

  @Override
  public int hashCode() {
    return index;
  }

  @Override
  public String toString() {
    return name;
  }
}
