package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** S-9.7.2.1 §4: extended data frames of 0 to 8 bytes. */
class CanFrameTest {

  @Test
  void firstDataByteIsTheMostSignificant() {
    CanFrame frame = CanFrame.of(0x19170458, 6, 0x02010D123456L);
    assertEquals(0x02010D123456_0000L, frame.data());
    assertEquals(0x02, frame.dataByte(0));
    assertEquals(0x56, frame.dataByte(5));
    assertEquals(0x02010D123456L, frame.dataValue());
    assertEquals(0x458, frame.sourceAlias());
  }

  @Test
  void dataBytesAreUnsigned() {
    CanFrame frame = new CanFrame(0, 8, -1);
    assertEquals(0xFF, frame.dataByte(0));
    assertEquals(0xFF, frame.dataByte(7));
  }

  @Test
  void emptyFrameHasNoData() {
    CanFrame frame = CanFrame.empty(0x10700458);
    assertEquals(new CanFrame(0x10700458, 0, 0), frame);
    assertEquals(0, frame.dataValue());
    assertThrows(IndexOutOfBoundsException.class, () -> frame.dataByte(0));
  }

  @ParameterizedTest
  @ValueSource(ints = {-1, 6, 8})
  void dataByteOutsideTheFrameIsRefused(int index) {
    CanFrame frame = CanFrame.of(0, 6, 1);
    assertThrows(IndexOutOfBoundsException.class, () -> frame.dataByte(index));
  }

  @ParameterizedTest
  @CsvSource({"-1, 0, 0", "0x20000000, 0, 0", "0, -1, 0", "0, 9, 0", "0, 0, 1", "0, 7, 255"})
  void frameThatCannotBeSentIsRefused(int header, int length, long data) {
    assertThrows(IllegalArgumentException.class, () -> new CanFrame(header, length, data));
  }
}
