package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.io.TempDir;

/** One device under test and one tester for all tests of a class. */
abstract class Bench {

  @TempDir static Path folder;
  static Dut dut;
  static Tester tester;

  @BeforeAll
  static void switchOn() throws IOException {
    dut = Dut.alone(folder);
    tester = Tester.join(dut.hub());
  }

  @BeforeEach
  void nothingIsOnTheLayout() {
    tester.send(BirchHollow.quietField());
    tester.settle();
  }

  /** Every frame had the form that all frames have, and the device is still there. */
  @AfterAll
  static void switchOff(TestInfo test) {
    Dut device = dut;
    Tester peer = tester;
    try (device;
        peer) {
      assertEquals(List.of(), peer.faults());
      assertTrue(device.process().isAlive());
      System.out.printf(
          "%s: the slowest answer took %d ms of %d%n",
          test.getDisplayName(), peer.slowestMs(), Tester.LIMIT_MS);
    }
  }
}
