package tappet.interlocking;

import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import tappet.network.Variable;

/** The alarms that stand, in the order of their declaration. */
final class StandingAlarms {

  private final Set<Variable> standing = new TreeSet<>(Comparator.comparingInt(Variable::index));

  void follow(Variable alarm, boolean stands) {
    if (stands) {
      standing.add(alarm);
    } else {
      standing.remove(alarm);
    }
  }

  List<Variable> all() {
    return List.copyOf(standing);
  }
}
