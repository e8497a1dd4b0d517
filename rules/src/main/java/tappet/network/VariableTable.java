package tappet.network;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * What is noted about some variables of one network. It is found by their index, because each
 * change of a variable asks for it, and the devices of a railroad stay together in memory that way.
 */
public final class VariableTable<T> {

  private final List<Optional<T>> entries;

  /** A table with nothing noted about any variable of {@code network}. */
  public VariableTable(Network network) {
    entries = new ArrayList<>(Collections.nCopies(network.variables().size(), Optional.empty()));
  }

  /** Notes {@code entry} about a variable, in the place of what was noted before. */
  public void put(Variable variable, T entry) {
    entries.set(variable.index(), Optional.of(entry));
  }

  /** What is noted about a variable. */
  public Optional<T> get(Variable variable) {
    return entries.get(variable.index());
  }
}
