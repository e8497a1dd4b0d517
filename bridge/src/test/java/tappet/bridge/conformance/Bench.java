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
    tester.hearAllEvents();
  }

  /** Ends the device and starts it anew, with what it has kept. */
  static void restart() throws IOException {
    assertEquals(List.of(), tester.faults());
    tester.close();
    dut.end();
    dut = Dut.alone(folder);
    tester = Tester.join(dut.hub());
    tester.hearAllEvents();
  }

  /** A configuration tool that speaks as the tester. */
  static Tool tool() {
    return new Tool(tester, "ttt");
  }

  @BeforeEach
  void nothingIsOnTheLayout() {
    tester.send(BirchHollow.quietField());
    tester.settle();
  }

  /** Every frame had the form that all frames have, and the device is still there. */
  @AfterAll
  static void switchOff(TestInfo test) {
    end(test, dut, tester);
  }

  /** Ends a device and its tester, and judges what was heard. */
  static void end(TestInfo test, Dut device, Tester peer) {
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
