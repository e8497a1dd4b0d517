package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Another node with the device's node id. */
class DuplicateNodeIdTest {

  /** S-9.7.0.4 §5.3. */
  private static final String DETECTED = "0101000000000201";

  @TempDir Path folder;
  private Dut dut;
  private Tester tester;

  @BeforeEach
  void start() throws IOException {
    dut = Dut.alone(folder);
    tester = Tester.join(dut.hub());
    tester.hearItOut();
  }

  @AfterEach
  void end() {
    Dut device = dut;
    Tester peer = tester;
    try (device;
        peer) {
      assertEquals(List.of(), peer.faults());
    }
  }

  @ParameterizedTest
  @CsvSource({"10701uuu, 19170uuu", "19170uuu, 10701uuu"})
  @Checks({12, 37, 40})
  void tellsItOnceAndIsSilentUntilItStartsAnew(String frame, String again) throws IOException {
    // S-9.7.2.1 §6.2.6, S-9.7.3 §3.5.4; the event is no automatically routed one, so that it has
    // to be advertised first (S-9.7.3.1 §6)
    tester.send(frame + Dut.NODE);
    tester.expect("1954[457]ddd" + DETECTED);
    tester.expect("195B4ddd" + DETECTED);
    tester.send(again + Dut.NODE, frame + Dut.NODE, "10702ttt", "17123ddd", "10700ddd");
    tester.send("19490ttt", "19488ttt 0ddd", "19828ttt 0ddd", "1Adddttt 2080", "19970ttt");
    tester.send("195B4ttt" + BirchHollow.MAIN_OCCUPIED);
    assertFalse(dut.tell("line w2e to main-end").isEmpty());
    assertEquals(List.of(), tester.hearFor(1000));
    dut.awaitAlarm("another node uses the daemon's id");
    tester.close();
    dut.end();
    start();
    tester.sendInVain();
  }
}
