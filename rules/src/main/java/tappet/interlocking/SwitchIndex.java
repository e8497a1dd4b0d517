package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Switches by what moves together, and by where they lie, each list in the order of the layout. */
final class SwitchIndex {

  private final Map<String, List<SwitchCircuit>> byNumber = new LinkedHashMap<>();
  private final Map<String, List<SwitchCircuit>> bySection = new LinkedHashMap<>();

  void add(SwitchCircuit end) {
    byNumber.computeIfAbsent(end.toe.number(), any -> new ArrayList<>()).add(end);
    bySection.computeIfAbsent(end.toe.section(), any -> new ArrayList<>()).add(end);
  }

  /** The ends that share a number. */
  List<SwitchCircuit> ends(String number) {
    return byNumber.getOrDefault(number, List.of());
  }

  /** The switches whose legs lie in a section. */
  List<SwitchCircuit> in(String section) {
    return bySection.getOrDefault(section, List.of());
  }
}
