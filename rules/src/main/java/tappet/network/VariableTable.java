package tappet.network;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * What is noted about the variables of one network. It is found by their index, because each change
 * of a variable asks for it, and the devices of a railroad stay together in memory that way.
 */
public final class VariableTable<T> {

  private final List<T> entries;

  /** A table that says {@code nothing} about every variable of {@code network}. */
  public VariableTable(Network network, T nothing) {
    entries = new ArrayList<>(Collections.nCopies(network.variables().size(), nothing));
  }

  /** Notes {@code entry} about a variable, in the place of what was noted before. */
  public void put(Variable variable, T entry) {
    entries.set(variable.index(), entry);
  }

  /** What is noted about a variable. */
  public T get(Variable variable) {
    return entries.get(variable.index());
  }
}
