package tappet.proof;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import tappet.network.Stepper;
import tappet.network.Variable;

/** States that a network came into while likely things happened to it. */
final class SeenStates {

  /** Fixed, so that the same files always give the same lemmas. */
  private static final long SEED = 236;

  /** After so many happenings everything begins anew: what was blocked would stay so. */
  private static final int A_DAY = 400;

  /** As many days have states that fill whole words. */
  private static final int DAYS_TOGETHER = 4;

  /** A railroad of so many variables is a small one: things happen one by one. */
  private static final int SMALL = 2_000;

  private final Watched watched;
  private final Stepper laidOut;

  /** By latch: 64 states a word, each a bit that tells whether it was true there. */
  private final long[][] seen;

  /** By variable; for the part of a step, perhaps. */
  private final boolean[] everTrue;

  /** On a large railroad as much happens between two looks as in all parts of it, taken small. */
  private final int happeningsAState;

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
    this.laidOut = laidOut;
    int variables = watched.network().variables().size();
    this.seen = new long[variables][];
    this.everTrue = new boolean[variables];
    this.happeningsAState = Math.max(1, variables / SMALL);
    int words = days * A_DAY / Long.SIZE;
    watched.network().latches().keySet().forEach(latch -> seen[latch.index()] = new long[words]);
    IntStream.range(0, days / DAYS_TOGETHER)
        .parallel()
        .forEach(part -> new Days(part * DAYS_TOGETHER).live());
  }

  /** Some days in a row. Other days may go on at the same time: their states are in other words. */
  private final class Days {

    private final int first;
    private final SplittableRandom chance;
    private final Happenings happenings = watched.happenings().again();

    /** By variable that is true: since which state. */
    private final int[] trueSince = new int[everTrue.length];

    Days(int first) {
      this.first = first;
      this.chance = new SplittableRandom(SEED + first);
    }

    void live() {
      for (int day = first; day < first + DAYS_TOGETHER; day++) {
        live(laidOut.again(), day * A_DAY);
      }
    }

    private void live(Stepper stepper, int firstState) {
      happenings.begin(stepper);
      stepper.step((variable, value) -> {});
      watched.network().variables().stream()
          .filter(stepper::value)
          .forEach(variable -> note(variable, true, firstState));
      for (int state = firstState + 1; state < firstState + A_DAY; state++) {
        int now = state;
        for (int happening = 0; happening < happeningsAState; happening++) {
          happenings.next(stepper, chance);
          stepper.step((variable, value) -> note(variable, value, now));
        }
      }
      watched.network().variables().stream()
          .filter(stepper::value)
          .forEach(variable -> note(variable, false, firstState + A_DAY));
    }

    /** A variable has become true or false. */
    private void note(Variable variable, boolean value, int state) {
      int index = variable.index();
      if (value) {
        everTrue[index] = true;
        trueSince[index] = state;
      } else if (seen[index] != null) {
        fill(seen[index], trueSince[index], state);
      }
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

  /** Whether a variable was ever true, and be it within a step. */
  boolean everTrue(Variable variable) {
    return everTrue[variable.index()];
  }
}
