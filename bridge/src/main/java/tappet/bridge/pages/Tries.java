package tappet.bridge.pages;

import java.util.HashMap;
import java.util.Map;

/** PINs that wait to be compared, or are being compared; there is room for a few. */
final class Tries {

  /** Of one address, which a few people may share. */
  static final int OF_ONE = 3;

  /** Of all addresses together: they are compared within a few seconds. */
  static final int OF_ALL = 10;

  private final Map<String, Integer> byAddress = new HashMap<>();
  private int all;

  /** Counts one more; false where there are too many already. */
  boolean begin(String address) {
    if (all >= OF_ALL || byAddress.getOrDefault(address, 0) >= OF_ONE) {
      return false;
    }
    all++;
    byAddress.merge(address, 1, Integer::sum);
    return true;
  }

  /** One has been compared, or will not be. */
  void end(String address) {
    all--;
    byAddress.computeIfPresent(address, (same, count) -> count == 1 ? null : count - 1);
  }
}
