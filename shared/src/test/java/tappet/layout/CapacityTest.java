package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.source.Problems;

/** How many cars a section holds. Common practice, no source. */
class CapacityTest {

  private static Layout layout(String length, String trains) {
    String text =
        """
        layout: 1
        name: Spur
        joints: {a: [0, 0], b: [2, 0], c: [4, 0], d: [4, 1]}
        sections:
          main: {between: [a, b], length: %s, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
          os: {length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        switches:
          s1: {section: os, points: b, normal: c, reverse: d, control: hand, at: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}}
        %s
        """
            .formatted(length, trains);
    return LayoutReader.read("l", text, new Problems()).orElseThrow();
  }

  private static OptionalInt capacity(Layout layout, String section) {
    return layout.capacity(layout.sections().get(section));
  }

  @ParameterizedTest
  @CsvSource({
    "1.6 m, 0.16 m, 10",
    "1.59 m, 0.16 m, 9",
    "3 m, 0.1 m, 30",
    "10 ft, 6 in, 20",
    "0.1 m, 0.16 m, 0"
  })
  void plainTrackHoldsAsManyCarsAsGoIntoItsLength(String length, String car, int count) {
    Layout layout = layout(length, "trains: {car length: " + car + "}");
    assertEquals(OptionalInt.of(count), capacity(layout, "main"));
  }

  @Test
  void noCarIsLeftWhereSwitchesLie() {
    assertEquals(OptionalInt.of(0), capacity(layout("1 m", "trains: {car length: 4 in}"), "os"));
  }

  @Test
  void nobodyKnowsWhereItIsNotSaidHowLongACarIs() {
    assertEquals(OptionalInt.empty(), capacity(layout("1 m", "trains: {stop within: 6 s}"), "os"));
    assertEquals(OptionalInt.empty(), capacity(layout("1 m", ""), "main"));
  }
}
