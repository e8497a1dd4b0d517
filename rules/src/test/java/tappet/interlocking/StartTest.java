package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Protected;

/** F.1 S19: after a start nothing is free until the field has been heard and the time has run. */
class StartTest {

  private static final double JUST = 0.000_001;

  // 49 CFR 236.5: the first thing the field is told is Stop, everywhere, and nothing moves.
  @Test
  void everySignalIsPutToStopAndNoSwitchIsSent() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    var told = new HashSet<>(desk.outputs());
    assertEquals(desk.layout.signals().size(), told.size());
    desk.layout
        .signals()
        .keySet()
        .forEach(id -> assertTrue(told.contains(new Output.Show(id, "stop")), id));
  }

  // H.8: an event never heard is not "clear", however long one waits.
  @Test
  void nothingIsGrantedBeforeTheFieldHasBeenHeard() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    desk.pass(600.0);
    for (var route : desk.table.routes().values()) {
      assertFalse(desk.tell("line " + route.from() + " to " + route.to()).granted(), route.id());
    }
    for (String id : desk.layout.switches().keySet()) {
      assertFalse(desk.tell("throw " + id + " reverse").granted(), id);
    }
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("tilling-w"));
    assertTrue(desk.interlocking.position("t1").isEmpty());
  }

  // H.9, H.11: a restart sets every time to full; a train may run on a signal of before.
  @Test
  void nothingIsGrantedBeforeTheStartTimeHasRun() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    desk.allClear();
    desk.pass(10.0 - JUST);
    for (var route : desk.table.routes().values()) {
      assertFalse(desk.tell("line " + route.from() + " to " + route.to()).granted(), route.id());
    }
    for (String id : desk.layout.switches().keySet()) {
      assertFalse(desk.tell("throw " + id + " reverse").granted(), id);
    }
    assertEquals(List.of(), desk.movements());
    desk.pass(JUST);
    assertTrue(desk.tell("line t2e to t4e").granted());
    assertTrue(desk.tell("throw y1 reverse").granted());
  }

  // H.9, F.1 S9: a switch in a permit that is kept over a restart counts as called to where it
  // lies.
  // Not even there is it sent before the time has run: a train may run on a signal of before.
  @Test
  void noSwitchIsSentWhereItIsCalledBeforeTheStartTimeHasRun() {
    var permit =
        new Protection(
            Protected.PERMIT, List.of("y-os"), "Way Freight", Moment.UNKNOWN, Optional.empty());
    for (Position lies : Position.values()) {
      var desk = Desk.restarted(Creamery.RAILROAD, new KeptProtections(List.of(permit), List.of()));
      desk.allClear();
      desk.lies("y1", lies);
      desk.pass(10.0 - JUST);
      desk.refused("throw y1 normal for 'Way Freight'");
      desk.refused("throw y1 reverse for 'Way Freight'");
      assertEquals(List.of(), desk.movements());
      desk.pass(JUST);
      desk.order("throw y1 normal for 'Way Freight'");
      assertEquals(List.of("y1 normal"), desk.movements());
    }
  }

  // H.9: whatever time had run before, none has run after a restart.
  @Test
  void noTimeHasRunAtTheStart() {
    var network = Desk.started(Desk.Railroad.GROWN).interlocking.network();
    assertFalse(network.timers().isEmpty());
    for (var timer : network.timers()) {
      assertFalse(network.latches().get(timer.hasRun()).initially(), timer::toString);
    }
  }

  // H.9: the loss-of-shunt time begins anew with the first report, however long ago it was clear.
  @Test
  void sectionIsVacantOnlyWhenItsTimeHasRunAnew() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    desk.pass(60.0);
    desk.allClear();
    desk.pass(2.0 - JUST);
    assertFalse(desk.tell("line t2e to t4e").granted());
    desk.pass(JUST);
    assertTrue(desk.tell("line t2e to t4e").granted());
  }

  // H.9, 236.305: a release time that was nearly over is waited for in full by the start time,
  // which no file may make shorter (rules, wrong file 19).
  @Test
  void cancelledRouteIsNotFreedSoonerByARestart() {
    var before = Desk.demo();
    before.order("line t2e to t4e");
    before.occupy("west-main");
    before.order("cancel t2e");
    before.pass(9.0);
    assertTrue(before.locked("t2e-t4e"));

    var after = Desk.started(Desk.Railroad.DEMO);
    after.allClear();
    after.occupy("west-main");
    after.pass(10.0 - JUST);
    assertFalse(after.tell("throw t1 reverse").granted());
    after.pass(JUST);
    assertTrue(after.tell("throw t1 reverse").granted());
  }

  @Test
  void whatIsStillUnheardAfterTheStartHoldsBackOnlyWhatNeedsIt() {
    var desk = Desk.started(Desk.Railroad.DEMO);
    desk.allClear();
    desk.unknown("tilling-main");
    desk.pass(60.0);
    assertFalse(desk.tell("line t2e to t4e").granted());
    assertTrue(desk.tell("line t2e to t6e").granted());
  }

  // 49 CFR 236.7: after a start a switch that lies right is sent there before it counts.
  @Test
  void switchIsCalledThoughItLiesRight() {
    var desk = Desk.demo();
    desk.movements();
    desk.order("line t2e to t4e");
    assertEquals(List.of("t1 normal"), desk.movements());
    assertEquals("approach", desk.shows("t2e"));
  }
}
