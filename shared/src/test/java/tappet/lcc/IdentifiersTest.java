package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class IdentifiersTest {

  // TN-9.7.0.2 §3: leading zeros on output, not demanded on input
  @ParameterizedTest
  @CsvSource({
    "02.01.0D.12.34.56, 02.01.0D.12.34.56",
    "2.1.d.12.34.56, 02.01.0D.12.34.56",
    "ff.ff.ff.ff.ff.ff, FF.FF.FF.FF.FF.FF",
    "0.0.0.0.0.0, 00.00.00.00.00.00",
  })
  void nodeIdIsReadLenientlyAndWrittenInFull(String text, String written) {
    assertEquals(written, NodeId.of(text).toString());
    assertEquals(Optional.of(NodeId.of(written)), NodeId.parse(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "02.01.0D.12.34",
        "02.01.0D.12.34.56.78",
        "02.01.0D.12.34.",
        "02.01.0D.12.34.5G",
        "02.01.0D.12.34.567",
        "02.01.0D.12.34.+5",
        "02-01-0D-12-34-56",
        "02010D123456",
      })
  void anythingElseIsNoNodeId(String text) {
    assertEquals(Optional.empty(), NodeId.parse(text));
    var refused = assertThrows(IllegalArgumentException.class, () -> NodeId.of(text));
    assertTrue(refused.getMessage().contains("six dotted hexadecimal bytes"));
  }

  // S-9.7.0.4 §4: eight bytes, any value
  @ParameterizedTest
  @CsvSource({
    "01.00.00.00.00.00.FF.FD, 01.00.00.00.00.00.FF.FD",
    "1.1.0.0.0.0.2.1, 01.01.00.00.00.00.02.01",
    "ff.ff.ff.ff.ff.ff.ff.ff, FF.FF.FF.FF.FF.FF.FF.FF",
  })
  void eventIdIsReadLenientlyAndWrittenInFull(String text, String written) {
    assertEquals(written, EventId.of(text).toString());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "02.01.0D.12.34.56", "02.01.0D.12.34.56.00.04.05", "a b"})
  void anythingElseIsNoEventId(String text) {
    assertEquals(Optional.empty(), EventId.parse(text));
    assertThrows(IllegalArgumentException.class, () -> EventId.of(text));
  }

  // S-9.7.0.4 §5.1
  @Test
  void eventIdTellsTheNodeItWasAllocatedBy() {
    assertEquals(
        NodeId.of("02.01.0D.12.34.56"), EventId.of("02.01.0D.12.34.56.00.04").allocatedBy());
    assertEquals(
        NodeId.of("FF.01.0D.12.34.56"), EventId.of("FF.01.0D.12.34.56.00.04").allocatedBy());
  }

  // TN-9.7.0.2 §2.3: unsigned
  @Test
  void eventIdsSortAsUnsignedNumbers() {
    var sorted =
        Stream.of("FF.00.00.00.00.00.00.00", "01.00.00.00.00.00.FF.FF", "7F.00.00.00.00.00.00.00")
            .map(EventId::of)
            .sorted()
            .map(EventId::toString)
            .toList();
    assertEquals("01.00.00.00.00.00.FF.FF", sorted.get(0));
    assertEquals("FF.00.00.00.00.00.00.00", sorted.get(2));
  }

  // S-9.7.0.3 §4: six bytes
  @ParameterizedTest
  @ValueSource(longs = {-1, 0x1_0000_0000_0000L, Long.MIN_VALUE})
  void nodeIdBeyond48BitsIsRefused(long value) {
    assertThrows(IllegalArgumentException.class, () -> new NodeId(value));
  }
}
