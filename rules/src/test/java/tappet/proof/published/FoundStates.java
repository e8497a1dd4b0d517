package tappet.proof.published;

import it.unimi.dsi.fastutil.ints.IntHash;
import it.unimi.dsi.fastutil.ints.IntOpenCustomHashSet;
import it.unimi.dsi.fastutil.longs.LongArrayList;

/**
 * Different states, numbered from 0 in the order in which they were found. A state is some bits, as
 * many in each; all lie in one list, and what is hashed is their numbers.
 */
final class FoundStates {

  private final int words;
  private final LongArrayList bits = new LongArrayList();
  private final IntOpenCustomHashSet numbers = new IntOpenCustomHashSet(new ByBits());

  /**
   * @param bitsOfState how many bits a state has, above 0
   */
  FoundStates(int bitsOfState) {
    words = (bitsOfState + Long.SIZE - 1) / Long.SIZE;
  }

  /** All bits of a state, none of them set. */
  long[] blank() {
    return new long[words];
  }

  int count() {
    return numbers.size();
  }

  /** Adds a state, unless it has been found already. */
  void add(long[] state) {
    int next = count();
    bits.addElements(next * words, state);
    if (!numbers.add(next)) {
      bits.size(next * words);
    }
  }

  /** Writes out the state of a number. */
  void read(int number, long[] state) {
    bits.getElements(number * words, state, 0, words);
  }

  private final class ByBits implements IntHash.Strategy {

    @Override
    public int hashCode(int number) {
      long hash = 0;
      for (int word = 0; word < words; word++) {
        hash = (hash ^ bits.getLong(number * words + word)) * 0x9E3779B97F4A7C15L;
        hash ^= hash >>> 32;
      }
      return (int) hash;
    }

    @Override
    public boolean equals(int one, int other) {
      for (int word = 0; word < words; word++) {
        if (bits.getLong(one * words + word) != bits.getLong(other * words + word)) {
          return false;
        }
      }
      return true;
    }
  }
}
