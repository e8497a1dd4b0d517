package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ExplainCommandTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "board staging does not answer, unknown: section fallow-1; A14",
        "12:01:44.120 WARN  switch m1 is out of correspondence; A2",
        "layout.yaml:12:5: both ends of section 'x' are joint 'j1'; L4",
        "no daemon answers at 127.0.0.1:12080; C1",
        "a14; A14"
      })
  void messageIsFoundByItsWordsOrItsId(String text, String id) {
    Console told = Console.run("explain", text.replace("answer,", "answer;"));
    assertEquals(0, told.status(), told.out());
    assertTrue(told.out().startsWith("\n" + id + "\n"), told.out());
  }

  @Test
  void wordsMayComeWithoutQuotes() {
    Console told = Console.run("explain", "switch", "m1", "is", "out", "of", "correspondence");
    assertTrue(told.out().contains("look at the points, the motor, the detection"), told.out());
  }

  @Test
  void nearestAreToldWhereNoneReadsSo() {
    Console told = Console.run("explain", "the switch seems out of correspondence");
    assertEquals(1, told.status());
    assertTrue(told.out().startsWith("The handbook has no such message; the nearest"), told.out());
    assertTrue(told.out().contains("\nA2\nswitch SWITCH is out of correspondence\n"), told.out());
  }

  @Test
  void nothingIsMadeUp() {
    Console told = Console.run("explain", "xyzzy");
    assertEquals(1, told.status());
    assertEquals("The handbook has no such message.\n", told.out());
  }
}
