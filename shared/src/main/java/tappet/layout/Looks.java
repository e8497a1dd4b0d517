package tappet.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * What aspects look like on signals of one form: the light of each head, from the top down.
 *
 * <p>How lights are read: those of a known aspect as that aspect; with a dark head, as if it showed
 * red, the most restrictive light of a head; and anything else as Stop (49 CFR 236.23; Army TR
 * 06358).
 *
 * @param id the owner's name for this form
 * @param aspects by aspect: the lights, of one length throughout
 * @param restriction every aspect of the railroad, from Stop to the most favourable
 */
public record Looks(String id, Map<String, List<Light>> aspects, List<String> restriction) {

  /** The most heads a signal has. */
  static final int HEADS_MAX = 3;

  /** Whether it has a light for each head in every aspect: a stand-in for a wrong one may not. */
  boolean isEven() {
    return heads() >= 1
        && heads() <= HEADS_MAX
        && aspects.values().stream().allMatch(lights -> lights.size() == heads());
  }

  /** How many heads such a signal has. */
  public int heads() {
    return aspects.values().stream().mapToInt(List::size).findFirst().orElse(0);
  }

  /** The lights of an aspect. */
  public List<Light> lights(String aspect) {
    return aspects.get(aspect);
  }

  /** Whether one aspect allows more than another. */
  public boolean isBetter(String one, String other) {
    return restriction.indexOf(one) > restriction.indexOf(other);
  }

  /** The aspect that a train reads from these lights. */
  public String read(List<Light> lights) {
    for (Map.Entry<String, List<Light>> aspect : aspects.entrySet()) {
      if (aspect.getValue().equals(lights)) {
        return aspect.getKey();
      }
    }
    List<Light> asRead = lights.stream().map(Light::asRead).toList();
    return asRead.equals(lights) ? Signal.STOP : read(asRead);
  }

  /** The aspect that a train reads where {@code aspect} is meant and these heads are dark. */
  public String readWithout(Set<Integer> darkHeads, String aspect) {
    List<Light> lights = new ArrayList<>(lights(aspect));
    darkHeads.forEach(head -> lights.set(head, Light.DARK));
    return read(lights);
  }

  /**
   * The smallest sets of heads that must not all be dark, or else something other than {@code
   * aspect} is read.
   */
  public List<Set<Integer>> needs(String aspect) {
    List<Set<Integer>> needs = new ArrayList<>();
    for (Set<Integer> heads : setsOfHeads()) {
      boolean spoils = !readWithout(heads, aspect).equals(aspect);
      if (spoils && needs.stream().noneMatch(heads::containsAll)) {
        needs.add(heads);
      }
    }
    return needs;
  }

  /** Every set of heads but the empty one, smaller sets first. */
  List<Set<Integer>> setsOfHeads() {
    List<Set<Integer>> sets = new ArrayList<>();
    for (int bits = 1; bits < 1 << heads(); bits++) {
      Set<Integer> heads = new TreeSet<>();
      for (int head = 0; head < heads(); head++) {
        if ((bits >> head & 1) == 1) {
          heads.add(head);
        }
      }
      sets.add(heads);
    }
    sets.sort((one, other) -> Integer.compare(one.size(), other.size()));
    return sets;
  }
}
