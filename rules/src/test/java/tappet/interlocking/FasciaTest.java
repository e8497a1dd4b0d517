package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Lamps and buttons on the fascia. Common practice, no source, where no clause is named. */
class FasciaTest {

  private static final String DEVICES =
      """
      lamps:
        free: {name: Road free, lit: 0A.00.00.00.00.01.71.01, dark: 0A.00.00.00.00.01.71.00}
        full: {lit: 0A.00.00.00.00.01.72.01, dark: 0A.00.00.00.00.01.72.00}
        yes: {lit: 0A.00.00.00.00.01.73.01, dark: 0A.00.00.00.00.01.73.00}
        no: {lit: 0A.00.00.00.00.01.74.01, dark: 0A.00.00.00.00.01.74.00}
        spare: {lit: 0A.00.00.00.00.01.75.01, dark: 0A.00.00.00.00.01.75.00}
      buttons:
        call: {name: Call, pressed: 0A.00.00.00.00.01.81.01, released: 0A.00.00.00.00.01.81.00, steady: 100 ms}
        slide: {pressed: 0A.00.00.00.00.01.82.01, released: 0A.00.00.00.00.01.82.00}
        idle: {pressed: 0A.00.00.00.00.01.83.01, released: 0A.00.00.00.00.01.83.00}
      """;

  private static final String RULES =
      """
      indicators:
        - {lamp: free, when: section road is clear}
        - {lamp: full, when: section road is occupied}
      requests:
        - {button: call, asks: line w0e to w2e, granted: yes, refused: no, shown: 3 s}
        - {button: slide, asks: line w2e to f, on release: cancel w2e}
      """;

  @Test
  void everyLampIsToldWhatItIsAtTheStart() {
    var desk = Desk.started(Lane.with(DEVICES, RULES));
    for (String lamp : List.of("free", "full", "yes", "no", "spare")) {
      assertTrue(desk.outputs().contains(new Output.Light(lamp, false)), lamp);
    }
  }

  // 236.5: a lamp and its opposite both ask for proof, so that neither is lit by silence.
  @Test
  void lampIsLitWhileItsConditionIsKnownToHold() {
    var desk = ready();
    assertEquals(Set.of("free"), lit(desk));
    desk.occupy("road");
    assertEquals(Set.of("full"), lit(desk));
    assertEquals(
        """
        lamp full is lit:
          section road is occupied
          section road reports
        """,
        desk.why("full"));
    desk.unknown("road");
    assertEquals(Set.of(), lit(desk));
    assertEquals(
        """
        lamp free (Road free) is dark:
          section road has not reported
        """,
        desk.why("free"));
    assertEquals(
        """
        lamp full is dark:
          section road is not heard to be occupied
          section road has not reported
        """,
        desk.why("full"));
  }

  @Test
  void pressAsksOnceAfterTheContactIsSteady() {
    var desk = ready();
    press(desk, "call");
    desk.pass(0.09);
    assertFalse(desk.locked("w0e-w2e"));
    desk.pass(0.02);
    assertEquals("approach", desk.shows("w0e"));
    desk.order("cancel w0e");
    desk.pass(60.0);
    assertFalse(desk.locked("w0e-w2e"), "held down it does not ask again");
  }

  @Test
  void contactThatBouncesAsksOnce() {
    var desk = ready();
    desk.changes();
    for (int bounce = 0; bounce < 5; bounce++) {
      press(desk, "call");
      desk.pass(0.05);
      release(desk, "call");
      desk.pass(0.05);
    }
    assertFalse(desk.locked("w0e-w2e"));
    press(desk, "call");
    desk.pass(1.0);
    assertEquals(1, asked(desk, "button call (Call) asks 'line w0e to w2e'"));
  }

  @Test
  void buttonThatIsFoundPressedAsksNothing() {
    var desk = Desk.ready(Lane.with(DEVICES, RULES));
    press(desk, "call");
    desk.pass(1.0);
    assertFalse(desk.locked("w0e-w2e"), "nothing was known of it before");
    release(desk, "call");
    desk.hears(new Input.ButtonReport("call", Optional.of(true), false));
    desk.pass(1.0);
    assertFalse(desk.locked("w0e-w2e"), "its board has told its state, and no press");
    desk.hears(new Input.ButtonReport("call", Optional.empty(), true));
    press(desk, "call");
    desk.pass(1.0);
    assertFalse(desk.locked("w0e-w2e"), "its board was away");
    release(desk, "call");
    press(desk, "call");
    desk.pass(1.0);
    assertTrue(desk.locked("w0e-w2e"));
  }

  @Test
  void lampTellsWhatCameOfItForItsTime() {
    var desk = ready();
    press(desk, "call");
    desk.pass(0.1);
    assertEquals(Set.of("free", "yes"), lit(desk));
    desk.pass(2.9);
    assertEquals(Set.of("free", "yes"), lit(desk));
    desk.pass(0.2);
    assertEquals(Set.of("free"), lit(desk));
  }

  @Test
  void lampTellsARefusalAndTheReasonIsTold() {
    var desk = ready();
    desk.occupy("west-near");
    desk.changes();
    press(desk, "call");
    desk.pass(0.2);
    assertEquals(Set.of("free", "no"), lit(desk));
    assertTrue(
        desk.changes()
            .contains(
                "button call (Call) asks 'line w0e to w2e': refused, route w0e-w2e cannot be lined:"
                    + " section west-near is occupied"));
  }

  @Test
  void secondAnswerPutsTheLampOfTheFirstOut() {
    var desk = ready();
    press(desk, "call");
    desk.pass(0.2);
    release(desk, "call");
    desk.occupy("west-far");
    desk.occupy("west-near");
    press(desk, "call");
    desk.pass(0.2);
    assertEquals(Set.of("free", "no"), lit(desk));
  }

  @Test
  void slideSwitchAsksInBothItsPositions() {
    var desk = ready();
    press(desk, "slide");
    desk.pass(1.0);
    assertEquals("approach", desk.shows("w2e"));
    release(desk, "slide");
    desk.pass(1.0);
    assertEquals("stop", desk.shows("w2e"));
    assertEquals(
        """
        button slide is released:
          it asks 'line w2e to f'
          it asks 'cancel w2e'
        """,
        desk.why("slide"));
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void buttonWithoutWorkIsHeardAndLeftAlone(boolean pressed) {
    var desk = ready();
    desk.hears(new Input.ButtonReport("idle", Optional.of(pressed), true));
    desk.pass(1.0);
    assertEquals(List.of(), desk.proceeding());
  }

  private static Desk ready() {
    var desk = Desk.ready(Lane.with(DEVICES, RULES));
    release(desk, "call");
    release(desk, "slide");
    return desk;
  }

  private static void press(Desk desk, String button) {
    desk.hears(new Input.ButtonReport(button, Optional.of(true), true));
  }

  private static void release(Desk desk, String button) {
    desk.hears(new Input.ButtonReport(button, Optional.of(false), true));
  }

  private static long asked(Desk desk, String what) {
    return desk.changes().stream().filter(change -> change.startsWith(what)).count();
  }

  /** The lamps that are lit by what the field was told. */
  private static Set<String> lit(Desk desk) {
    Set<String> lit = new LinkedHashSet<>();
    for (Output output : desk.outputs()) {
      if (output instanceof Output.Light light) {
        if (light.lit()) {
          lit.add(light.lamp());
        } else {
          lit.remove(light.lamp());
        }
      }
    }
    return lit;
  }
}
