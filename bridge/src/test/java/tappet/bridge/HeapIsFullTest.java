package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** What the daemon's JVM options make of a heap that is full on any thread. */
class HeapIsFullTest {

  /** As the JVM's manual has it for ExitOnOutOfMemoryError. */
  private static final int OUT_OF_MEMORY_STATUS = 3;

  // 49 CFR 236.5: half a daemon may have lost a report; none at all is started again at Stop.
  @Test
  void processEndsWhicheverThreadFindsTheHeapFull() throws Exception {
    try (JavaProcess glutton = JavaProcess.start(Glutton.class)) {
      assertEquals(OUT_OF_MEMORY_STATUS, glutton.awaitEnd(), glutton.lines()::toString);
    }
  }
}
