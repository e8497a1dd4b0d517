package tappet.bridge.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.CanFrame;

/** Lines of a log as Linux' can-utils write them; from memory, checked by those tools elsewhere. */
class FrameLogTextTest {

  @ParameterizedTest
  @CsvSource({
    "1436509052249713, 0x1B4A3F12, 2, 0x0102, (1436509052.249713) can0 1B4A3F12#0102",
    "0, 0x00000001, 0, 0, (0000000000.000000) can0 00000001#",
    "1000001, 0x195B4573, 8, 0x0102030405060708,"
        + " (0000000001.000001) can0 195B4573#0102030405060708",
  })
  void lineAndFrameAreOne(long timeUs, String header, int length, String data, String line) {
    LoggedFrame frame =
        new LoggedFrame(timeUs, CanFrame.of(Integer.decode(header), length, Long.decode(data)));

    assertEquals(line, FrameLogText.write(frame, "can0"));
    assertEquals(Optional.of(frame), FrameLogText.read(line));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "(1436509052.249713) vcan12 1b4a3f12#0102",
        "(1436509052.249713)  can0  1B4A3F12#0102",
        "(1436509052.249713) can0 1B4A3F12#0102 R",
        "  (1436509052.249713) can0 1B4A3F12#0102\r",
      })
  void linesOfOtherHandsAreRead(String line) {
    assertEquals(
        Optional.of(new LoggedFrame(1436509052249713L, CanFrame.of(0x1B4A3F12, 2, 0x0102))),
        FrameLogText.read(line));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "# a remark",
        "(1436509052.249713) can0 123#0102",
        "(1436509052.249713) can0 1B4A3F12#R",
        "(1436509052.249713) can0 1B4A3F12##10102",
        "(1436509052.249713) can0 20000004#0000000000000000",
        "(1436509052.249713) can0 1B4A3F12#010",
        "(1436509052.249713) can0 1B4A3F12#010203040506070809",
        "(1436509052) can0 1B4A3F12#0102",
        "(99999999999999999999.249713) can0 1B4A3F12#0102",
      })
  void linesWithoutAnLccFrameAreNone(String line) {
    assertEquals(Optional.empty(), FrameLogText.read(line));
  }

  @Test
  void timeBefore1970IsRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> new LoggedFrame(-1, CanFrame.empty(0x195B4573)));
  }
}
