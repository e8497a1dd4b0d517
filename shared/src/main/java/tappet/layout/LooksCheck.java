package tappet.layout;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * Checks that no lamp that fails makes a train read more than is meant: for every aspect and every
 * set of heads that can go dark, and for every flasher that sticks (49 CFR 236.23; sheet C.5 rule
 * 7).
 */
final class LooksCheck {

  private final Looks looks;
  private final Map<String, Place> places;
  private final Problems problems;

  /**
   * @param places where each aspect stands
   */
  LooksCheck(Looks looks, Map<String, Place> places, Problems problems) {
    this.looks = looks;
    this.places = places;
    this.problems = problems;
  }

  /**
   * @param readable whether every light could be read
   */
  void check(boolean readable) {
    if (readable) {
      looks.aspects().keySet().forEach(looks.isEven() ? this::checkAspect : this::checkHeads);
    }
  }

  private void checkHeads(String aspect) {
    int heads = looks.lights(aspect).size();
    if (heads != looks.heads() || heads < 1 || heads > Looks.HEADS_MAX) {
      problems.add(
          places.get(aspect),
          "'%s' gives the lights of %s".formatted(aspect, HeadNames.count(heads)),
          "give one light for each head, from the top down; signals of one form have the same"
              + " number of heads, one to three");
    }
  }

  private void checkAspect(String aspect) {
    String seen = looks.read(looks.lights(aspect));
    if (!seen.equals(aspect)) {
      problems.add(
          places.get(aspect),
          "'%s' looks like '%s'".formatted(aspect, seen),
          "no train could tell them apart; give one of them other lights");
      return;
    }
    for (Set<Integer> heads : looks.setsOfHeads()) {
      if (isWorse(looks.readWithout(heads, aspect), aspect, with(heads, aspect))) {
        return;
      }
    }
    checkFlashers(aspect);
  }

  private void checkFlashers(String aspect) {
    List<Light> lights = looks.lights(aspect);
    for (int head = 0; head < lights.size(); head++) {
      List<Light> stuck = new ArrayList<>(lights);
      stuck.set(head, lights.get(head).stuck());
      String what = "with its %s burning steadily".formatted(lights.get(head).words());
      if (isWorse(looks.read(stuck), aspect, what)) {
        return;
      }
    }
  }

  private boolean isWorse(String seen, String meant, String failure) {
    boolean better = looks.isBetter(seen, meant);
    if (better) {
      problems.add(
          places.get(meant),
          "%s, '%s' reads as '%s', which allows more".formatted(failure, meant, seen),
          "a failed lamp must never do that (49 CFR 236.23); give one of them other lights");
    }
    return better;
  }

  private String with(Set<Integer> heads, String aspect) {
    return heads.stream()
        .map(head -> HeadNames.of(head, looks.heads()) + looks.lights(aspect).get(head).words())
        .collect(Collectors.joining(" and ", "with its ", " out"));
  }
}
