package tappet.proof;

import java.util.Arrays;
import java.util.SplittableRandom;
import tappet.network.Stepper;
import tappet.network.Variable;

/** States that a network came into while likely things happened to it. */
final class SeenStates {

  /** Fixed, so that the same files always give the same lemmas. */
  private static final long SEED = 236;

  /** After so many happenings everything begins anew: what was blocked would stay so. */
  private static final int A_DAY = 400;

  private static final int FALSE = -1;

  private final Watched watched;

  /** By variable: 64 states a word, each a bit that tells whether it was true there. */
  private final long[][] seen;

  /** By variable: the state since which it is true, or {@link #FALSE}. */
  private final int[] trueSince;

  private final int count;

  /**
   * @param days how many times everything begins anew, a multiple of 4 above 0
   */
  SeenStates(Watched watched, int days) {
    this(watched, new Stepper(watched.network()), days);
  }

  /**
   * @param laidOut any run of the watched network
   * @param days how many times everything begins anew, a multiple of 4 above 0
   */
  SeenStates(Watched watched, Stepper laidOut, int days) {
    this.watched = watched;
    this.count = days * A_DAY;
    int variables = watched.network().variables().size();
    this.seen = new long[variables][count / Long.SIZE];
    this.trueSince = new int[variables];
    Arrays.fill(trueSince, FALSE);
    SplittableRandom chance = new SplittableRandom(SEED);
    for (int day = 0; day < days; day++) {
      live(laidOut.again(), day * A_DAY, chance);
    }
  }

  private void live(Stepper stepper, int firstState, SplittableRandom chance) {
    watched.happenings().begin(stepper);
    stepper.step((variable, value) -> {});
    watched.network().variables().stream()
        .filter(stepper::value)
        .forEach(variable -> note(variable, true, firstState));
    for (int state = firstState + 1; state < firstState + A_DAY; state++) {
      int now = state;
      watched.happenings().next(stepper, chance);
      stepper.step((variable, value) -> note(variable, value, now));
    }
    watched.network().variables().stream()
        .filter(stepper::value)
        .forEach(variable -> note(variable, false, firstState + A_DAY));
  }

  /** A variable has become true or false. */
  private void note(Variable variable, boolean value, int state) {
    int index = variable.index();
    if (value) {
      trueSince[index] = state;
    } else if (trueSince[index] != FALSE) {
      fill(seen[index], trueSince[index], state);
      trueSince[index] = FALSE;
    }
  }

  private static void fill(long[] bits, int from, int to) {
    for (int bit = from; bit < to; bit++) {
      bits[bit / Long.SIZE] |= 1L << bit;
    }
  }

  /** Whether a lemma held in every state. */
  boolean agreeWith(Lemma lemma) {
    long[] one = seen[lemma.one().index()];
    long[] other = seen[lemma.other().index()];
    long oneTurned = lemma.oneValue() ? 0 : ~0L;
    long otherTurned = lemma.otherValue() ? 0 : ~0L;
    for (int word = 0; word < one.length; word++) {
      if (((one[word] ^ oneTurned) | (other[word] ^ otherTurned)) != ~0L) {
        return false;
      }
    }
    return true;
  }

  /** Whether a variable was ever true. */
  boolean everTrue(Variable variable) {
    return Arrays.stream(seen[variable.index()]).anyMatch(word -> word != 0);
  }
}
