package tappet.proof;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.SplittableRandom;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Variable;

/** States that a network came into while likely things happened to it. */
final class SeenStates {

  /** Fixed, so that the same files always give the same lemmas. */
  private static final long SEED = 236;

  /** After so many happenings everything begins anew: what was blocked would stay so. */
  private static final int A_DAY = 400;

  private final List<BitSet> seen = new ArrayList<>();
  private final int count;

  /**
   * @param count how many things happen, above 0
   */
  SeenStates(Network network, Happenings happenings, int count) {
    this.count = count;
    network.variables().forEach(variable -> seen.add(new BitSet(count)));
    SplittableRandom chance = new SplittableRandom(SEED);
    Stepper stepper = new Stepper(network);
    for (int moment = 0; moment < count; moment++) {
      if (moment % A_DAY == 0) {
        stepper = new Stepper(network);
        happenings.begin(stepper);
      }
      stepper.step((variable, value) -> {});
      look(stepper, moment);
      happenings.next(stepper, chance);
    }
  }

  private void look(Stepper stepper, int moment) {
    for (Variable variable : stepper.network().variables()) {
      if (stepper.value(variable)) {
        seen.get(variable.index()).set(moment);
      }
    }
  }

  /** Whether a lemma held in every state. */
  boolean agreeWith(Lemma lemma) {
    BitSet one = where(lemma.one(), lemma.oneValue());
    one.or(where(lemma.other(), lemma.otherValue()));
    return one.cardinality() == count;
  }

  /** How often a variable had a value. */
  int times(Variable variable, boolean value) {
    int yes = seen.get(variable.index()).cardinality();
    return value ? yes : count - yes;
  }

  private BitSet where(Variable variable, boolean value) {
    BitSet found = (BitSet) seen.get(variable.index()).clone();
    if (!value) {
      found.flip(0, count);
    }
    return found;
  }
}
