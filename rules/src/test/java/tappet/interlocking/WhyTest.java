package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.REVERSE;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What people are told, whole: why something is as it is, and why a request was refused. */
class WhyTest {

  private static final int SCREEN_LINES = 24;

  @Test
  void signalWithNothingLined() {
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          no route is lined from signal t2e (Tilling 2E)
          route t2e-t4e can be lined
          route t2e-t6e can be lined
        """,
        Desk.demo().why("t2e"));
  }

  @Test
  void signalWithAnOccupiedSectionAhead() {
    var desk = Desk.demo();
    desk.occupy("tilling-main");
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          no route is lined from signal t2e (Tilling 2E)
          route t2e-t4e cannot be lined:
            section tilling-main (Tilling main) is occupied
          route t2e-t6e can be lined
        """,
        desk.why("t2e"));
  }

  @Test
  void signalThatFellForAnUnknownSection() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.unknown("tilling-main");
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t4e is locked, but:
            its signal has been put back to stop; line the route again to clear it
            section tilling-main (Tilling main) has not reported
        """,
        desk.why("t2e"));
    desk.clear("tilling-main");
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t4e is locked, but:
            its signal has been put back to stop; line the route again to clear it
            section tilling-main (Tilling main) has only just become clear
        """,
        desk.why("t2e"));
  }

  @Test
  void signalWhoseSwitchIsNotDetected() {
    var desk = Desk.demo();
    desk.stuck("t1");
    assertEquals(
        """
        route t2e-t6e is lined:
          switch t1 (West Tilling) is not detected reverse
        """,
        desk.tell("line t2e to t6e").explanation().text());
    desk.pass(4.0);
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t6e is locked, but:
            switch t1 (West Tilling) is not detected reverse
        """,
        desk.why("t2e"));
    assertEquals(
        """
        switch t1 (West Tilling) lies normal:
          switch t1 (West Tilling) is out of correspondence
          switch t1 (West Tilling) is locked:
            section tilling-w is held by route t2e-t6e
        """,
        desk.why("t1"));
  }

  @Test
  void signalThatIsCancelledWithItsTimeRunning() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.occupy("west-main");
    assertEquals(
        """
        signal t2e (Tilling 2E) is put back to stop:
          route t2e-t4e is being cancelled and its release time runs, 10 s left
        """,
        desk.tell("cancel t2e").explanation().text());
    desk.pass(3.4);
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t4e is locked, but:
            route t2e-t4e is being cancelled and its release time runs, 7 s left
            its signal has been put back to stop; line the route again to clear it
        """,
        desk.why("t2e"));
    desk.occupy("tilling-w");
    desk.pass(10.0);
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t4e is locked, but:
            route t2e-t4e is being cancelled and waits for its sections to become vacant
            a train on route t2e-t4e has entered section tilling-w
        """,
        desk.why("t2e"));
  }

  @Test
  void signalSoonAfterTheStart() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    desk.pass(3.0);
    assertEquals(
        """
        signal t4e (Tilling 4E) shows stop:
          no route is lined from signal t4e (Tilling 4E)
          route t4e-m2e cannot be lined:
            the time since the start still runs, 7 s left
            section tilling-e (Tilling east switch) has not reported
            section mid-west (East of Tilling) has not reported
        """,
        desk.why("t4e"));
    desk.allClear();
    desk.steady();
    assertEquals(
        """
        switch t1 (West Tilling) cannot be thrown reverse:
          the time since the start still runs, 5 s left
        """,
        desk.tell("throw t1 reverse").explanation().text());
  }

  @Test
  void signalBehindItsTrain() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.runs("west-main", "tilling-w");
    assertEquals(
        """
        signal t2e (Tilling 2E) shows stop:
          route t2e-t4e is locked, but:
            a train on route t2e-t4e has entered section tilling-w
        """,
        desk.why("t2e"));
  }

  @Test
  void signalThatProceeds() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    assertEquals(
        """
        signal t2e (Tilling 2E) shows approach:
          route t2e-t4e is lined and proved
          its speed is main, and signal t4e (Tilling 4E) shows stop
        """,
        desk.why("t2e"));
    assertEquals(
        """
        route t2e-t4e is locked:
          section tilling-w is held by route t2e-t4e
          section tilling-main is held by route t2e-t4e
        """,
        desk.why("t2e-t4e"));
    assertEquals(
        """
        section tilling-w (Tilling west switch) is clear:
          section tilling-w is held by route t2e-t4e
        """,
        desk.why("tilling-w"));
    assertEquals("route t2e-t4e is lined already\n", told(desk, "line t2e to t4e"));
  }

  @ParameterizedTest(name = "{0}")
  @CsvSource(
      delimiter = '|',
      value = {
        "line t8w to t4w | route t8w-t4w cannot be lined:/  section tilling-main is held by route t2e-t4e/",
        "line t2e to t6e | route t2e-t6e cannot be lined:/  section tilling-w is held by route t2e-t4e/",
        "line c2e to mill-end | route c2e-mill-end cannot be lined:/  section mill-branch (Mill branch) is occupied/",
        "line m2w to t8w | route m2w-t8w cannot be lined:/  route m2e-c2e is locked/",
        "throw t1 reverse | switch t1 (West Tilling) cannot be thrown reverse:/  section tilling-w is held by route t2e-t4e/",
        "throw y1 reverse | switch y1 (Yard 1) cannot be thrown reverse:/  section yard-throat (Yard ladder) has not reported/",
        "line t2x to t4e | there is no signal 't2x':/  did you mean 't2e'?/",
        "line t2e to t8e | no route leads from t2e to t8e:/  did you mean 't4e'?/",
        "cancel t44e | there is no signal 't44e':/  did you mean 't4e'?/",
        "throw t11 normal | there is no switch 't11':/  did you mean 't1'?/",
        "cancel t4e | no route is lined from signal t4e (Tilling 4E)/",
      })
  void requestIsRefusedWithItsReasons(String request, String text) {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.order("line m2e to c2e");
    desk.occupy("mill-branch");
    desk.unknown("yard-throat");
    desk.movements();
    assertFalse(desk.tell(request).granted());
    assertEquals(text.replace('/', '\n'), told(desk, request));
  }

  @Test
  void switchThatStandsWrongUnderATrainIsNamed() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.order("throw f normal");
    desk.lies("f", REVERSE);
    desk.occupy("spur-os");
    assertEquals(
        """
        route b2e-d cannot be lined:
          switch f cannot be thrown normal:
            section spur-os is occupied
        """,
        told(desk, "line b2e to d"));
  }

  // What happens is told in the trade's order.
  @Test
  void changesAreToldInOrder() {
    var desk = Desk.starter();
    desk.changes();
    desk.order("line w2e to siding-end");
    desk.pass(1.0);
    desk.runs("approach", "switch", "siding");
    assertEquals(
        """
        switch w1 (West switch) is sent reverse
        route w2e-siding-end is locked
        switch w1 (West switch) has left normal
        switch w1 (West switch) lies reverse
        signal w2e (West 2E) shows diverging-approach
        section approach (Approach) is occupied
        section switch (West switch) is occupied
        signal w2e (West 2E) shows stop
        section approach (Approach) is clear
        section siding (Siding) is occupied
        section switch (West switch) is clear
        route w2e-siding-end lets section switch go
        route w2e-siding-end lets section siding go
        route w2e-siding-end is released
        """,
        String.join("\n", desk.changes()) + "\n");
  }

  // One readable screen, also in the worst case: nothing heard, three ways with two switches.
  @Test
  void everyExplanationFitsOneScreen() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    for (String name : desk.interlocking.names()) {
      var text = desk.why(name);
      assertTrue(text.lines().count() <= SCREEN_LINES, text);
    }
  }

  @Test
  void nameNobodyKnowsHasNoExplanation() {
    assertTrue(Desk.demo().interlocking.why("t2x", 0).isEmpty());
  }

  private static String told(Desk desk, String request) {
    return desk.tell(request).explanation().text();
  }
}
