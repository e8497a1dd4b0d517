package tappet.bridge.field;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Input;
import tappet.interlocking.Output;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.lcc.EventId;
import tappet.lcc.Validity;
import tappet.source.Problems;

/** What events of locks, local controls, undetected switches and crossovers say, both ways. */
class SwitchKindsFieldTest {

  private static final String TEXT =
      """
      layout: 1
      name: Field
      joints: {a: [0, 1], b: [2, 1], c: [2, 0], d: [4, 1], e: [4, 2], f: [6, 1], g: [6, 0], h: [4, 0], i: [6, -1], j: [8, 1], k: [8, 2]}
      sections:
        one: {length: 1 m, occupied: 0A.00.00.00.00.04.11.01, clear: 0A.00.00.00.00.04.11.00}
        two: {length: 1 m, occupied: 0A.00.00.00.00.04.12.01, clear: 0A.00.00.00.00.04.12.00}
        three: {length: 1 m, occupied: 0A.00.00.00.00.04.13.01, clear: 0A.00.00.00.00.04.13.00}
        four: {length: 1 m, occupied: 0A.00.00.00.00.04.14.01, clear: 0A.00.00.00.00.04.14.00}
        five: {length: 1 m, occupied: 0A.00.00.00.00.04.15.01, clear: 0A.00.00.00.00.04.15.00}
      switches:
        q:
          section: one
          points: a
          normal: b
          reverse: c
          control: released
          lock: {to: {release: 0A.00.00.00.00.04.41.00, secure: 0A.00.00.00.00.04.41.01}, at: {released: 0A.00.00.00.00.04.42.00, secured: 0A.00.00.00.00.04.42.01}}
          at: {normal: 0A.00.00.00.00.04.31.00, reverse: 0A.00.00.00.00.04.31.01}
        l:
          section: two
          points: b
          normal: d
          reverse: e
          control: local
          asks: {normal: 0A.00.00.00.00.04.51.00, reverse: 0A.00.00.00.00.04.51.01}
          to: {normal: 0A.00.00.00.00.04.22.00, reverse: 0A.00.00.00.00.04.22.01}
          at: {normal: 0A.00.00.00.00.04.32.00, reverse: 0A.00.00.00.00.04.32.01}
        u:
          section: three
          points: d
          normal: f
          reverse: g
          assumed after: 4 s
          to: {normal: 0A.00.00.00.00.05.23.00, reverse: 0A.00.00.00.00.05.23.01}
        r:
          section: five
          points: f
          normal: j
          reverse: k
          control: released
          lock: {to: {release: 0A.00.00.00.00.06.41.00, secure: 0A.00.00.00.00.06.41.01}, assumed after: 2 s}
          at: {normal: 0A.00.00.00.00.04.35.00, reverse: 0A.00.00.00.00.04.35.01}
        x: {section: four, points: c, normal: h, reverse: i, with: l, at: {normal: 0A.00.00.00.00.04.34.00, reverse: 0A.00.00.00.00.04.34.01}}
      boards:
        bare: {node: 0A.00.00.00.00.05}
        main: {node: 0A.00.00.00.00.04}
        locks: {node: 0A.00.00.00.00.06}
      """;

  private static final Input U_FORGOTTEN = new Input.SwitchReport("u", Optional.empty());
  private static final Input R_FORGOTTEN = new Input.LockReport("r", Optional.empty());

  private final Layout layout = layout();
  private final Field field = new Field(layout);

  @Test
  void lockIsHeardAndTold() {
    assertEquals(
        Optional.of(new Input.LockReport("q", Optional.of(LockState.SECURED))), hear("42.01"));
    assertEquals(List.of(event("41.00")), field.tell(new Output.Lock("q", LockState.RELEASED), 0));
    assertTrue(field.produced().contains(event("41.01")));
    assertTrue(field.consumed().contains(event("42.00")));
    assertEquals(
        List.of(new Input.LockReport("q", Optional.empty()), R_FORGOTTEN),
        field.lose(board("main")));
    assertTrue(field.unanswered().contains(event("42.00")));
    assertTrue(field.reportsOf(board("main")).contains(event("42.01")));
  }

  // A button is pressed, not held: asked about its state it would throw a switch by itself.
  @Test
  void controlIsHeardEachTimeAndNeverAskedForItsState() {
    var asked = Optional.of(new Input.SwitchAsked("l", Position.REVERSE));
    assertEquals(asked, hear("51.01"));
    assertEquals(asked, hear("51.01"));
    assertEquals(Optional.empty(), field.hearState(event("51.01"), Validity.VALID, "the cable"));
    assertFalse(field.reports().contains(event("51.01")));
    assertTrue(field.consumed().contains(event("51.01")));
  }

  // 49 CFR 236.5: an order that may not have arrived is not assumed to have been carried out.
  @Test
  void whatIsAssumedIsForgottenWithItsBoardOrConnection() {
    assertEquals(List.of("u"), board("bare").switches());
    assertEquals(List.of(U_FORGOTTEN), field.lose(board("bare")));
    assertEquals(List.of(R_FORGOTTEN), field.lose(board("locks")));
    assertEquals(List.of(U_FORGOTTEN, R_FORGOTTEN), field.connected());
    assertEquals(List.of(U_FORGOTTEN, R_FORGOTTEN), field.loseAll());
    assertEquals(List.of(), field.lose("a visitor"));
    var heard = hear("11.00");
    assertTrue(heard.isPresent());
    assertTrue(field.lose("the cable").containsAll(List.of(U_FORGOTTEN, R_FORGOTTEN)));
  }

  // 49 CFR 236.5: the same, of one order alone.
  @Test
  void orderThatMayHaveReachedNobodyIsForgottenWhereNothingDetectsWhatComesOfIt() {
    EventId ofU = field.tell(new Output.Throw("u", Position.REVERSE), 0).get(0);
    EventId ofR = field.tell(new Output.Lock("r", LockState.SECURED), 0).get(0);
    EventId ofL = field.tell(new Output.Throw("l", Position.REVERSE), 0).get(0);
    assertEquals(List.of(U_FORGOTTEN), field.forget(ofU));
    assertEquals(List.of(R_FORGOTTEN), field.forget(ofR));
    assertEquals(List.of(), field.forget(ofL));
    assertEquals(List.of(board("bare")), field.carriers(ofU));
    assertEquals(List.of(board("main"), board("locks")), field.carriers(ofR), "it needs both");
    assertEquals(List.of(), field.carriers(ofL));
  }

  // H.5: both ends of a crossover leave their places when the first is sent.
  @Test
  void bothEndsLeaveWhenTheFirstIsSent() {
    hear("32.00");
    hear("34.00");
    assertEquals(
        List.of(
            new Input.SwitchReport("l", Optional.empty()),
            new Input.SwitchReport("x", Optional.empty())),
        field.leave(new Output.Throw("l", Position.REVERSE)));
  }

  private Optional<Input> hear(String end) {
    return field.hear(event(end), Validity.VALID, "the cable");
  }

  private Board board(String id) {
    return layout.boards().get(id);
  }

  private static EventId event(String end) {
    return EventId.of("0A.00.00.00.00.04." + end);
  }

  private static Layout layout() {
    var problems = new Problems();
    var layout = LayoutReader.read("field.yaml", TEXT, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }
}
