package tappet.bridge.conformance;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.io.TempDir;

/**
 * One device whose layout has the default fast clock, for all tests of a class, heard from its
 * first frame on. Events of the clock are written by their low 16 bits (S-9.7.4.5 §4).
 */
abstract class ClockBench {

  static final String QUERY = "F000";
  static final String STOP = "F001";
  static final String START = "F002";
  static final String ROLLOVER = "F003";

  @TempDir static Path folder;
  static Stage stage;
  static Dut dut;
  static Tester tester;

  /** Starts it with this clock; answers all it says up to a frame. */
  static List<Heard> switchOn(String clock, String upTo) throws IOException {
    stage = new Stage();
    dut = Dut.withClock(folder, clock, stage.port());
    tester = stage.await();
    List<Heard> start = tester.hearUntil(upTo);
    tester.takeAliases();
    return start;
  }

  @AfterAll
  static void switchOff(TestInfo test) {
    Stage hub = stage;
    try (hub) {
      Bench.end(test, dut, tester);
    }
  }

  /** The whole event. */
  static String event(String low) {
    return "010100000100" + low;
  }

  /** All events of the clock as a range (S-9.7.3.1 §4.4). */
  static String range() {
    return event("FFFF");
  }

  /** Reports events, as anybody may. */
  static void report(String... lows) {
    for (String low : lows) {
      tester.send("195B4ttt" + event(low));
    }
  }

  /** The low bits of an event. */
  static String low(Heard heard) {
    return heard.data().substring(12);
  }
}
