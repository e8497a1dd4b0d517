package tappet.bridge.health;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** The heap is cleared when it has grown, and only then. Common practice, no source. */
class HousekeepingTest {

  private static final long MB = 1 << 20;

  private long heapBytes = 16 * MB;
  private long usedBytes = 12 * MB;
  private int cleared;

  private final Housekeeping keeping = new Housekeeping(() -> heapBytes, this::clear);

  private void clear() {
    cleared++;
    heapBytes = usedBytes;
  }

  @Test
  void whatAStartHasLeftIsClearedOnce() {
    keeping.look();
    keeping.look();
    assertEquals(1, cleared);
    assertEquals(12 * MB, heapBytes);
  }

  @Test
  void heapThatHasGrownIsCleared() {
    keeping.look();
    heapBytes += Housekeeping.GROWTH_BYTES - 1;
    keeping.look();
    assertEquals(1, cleared);
    heapBytes++;
    keeping.look();
    assertEquals(2, cleared);
  }

  // A larger railroad needs more: what is in use is no reason to clear again and again.
  @Test
  void heapThatIsInUseIsNotClearedAgain() {
    usedBytes = 40 * MB;
    heapBytes = 40 * MB;
    keeping.look();
    keeping.look();
    keeping.look();
    assertEquals(1, cleared);
  }
}
