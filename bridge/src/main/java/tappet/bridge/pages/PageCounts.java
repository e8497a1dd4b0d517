package tappet.bridge.pages;

import java.util.Map;

/**
 * What the pages' server has counted.
 *
 * @param open pages that are open now
 * @param cutOff pages that were cut off because they did not keep up
 * @param refused what was refused, by reason in words
 */
public record PageCounts(int open, long cutOff, Map<String, Long> refused) {

  /** There are no pages. */
  public static final PageCounts NONE = new PageCounts(0, 0, Map.of());
}
