package tappet.sentence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Position;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.Command.End;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Condition.OpeningState;
import tappet.sentence.Protected.Device;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

class SentencesTest {

  /** Sentences begin here, behind a key of a file. */
  private static final Place AT = new Place("f", 3, 11);

  private final Problems problems = new Problems();

  static Stream<Arguments> conditions() {
    return Stream.of(
        Arguments.of("section tilling-w is clear", section("tilling-w", Occupancy.CLEAR, 8)),
        Arguments.of("SECTION Tilling-W Is Occupied", section("Tilling-W", Occupancy.OCCUPIED, 8)),
        Arguments.of("section 'Extra 41' is unknown", section("Extra 41", Occupancy.UNKNOWN, 8)),
        Arguments.of("section clear is clear", section("clear", Occupancy.CLEAR, 8)),
        Arguments.of("signal rate is stop", new Condition.SignalIs("rate", "stop", at(7), at(15))),
        Arguments.of("section 4 is not clear", new Condition.Not(section("4", Occupancy.CLEAR, 8))),
        Arguments.of("switch t1 is reverse", new Condition.SwitchIs("t1", Position.REVERSE, at(7))),
        Arguments.of(
            "switch t1 is not normal",
            new Condition.Not(new Condition.SwitchIs("t1", Position.NORMAL, at(7)))),
        Arguments.of(
            "signal t2e is diverging-approach",
            new Condition.SignalIs("t2e", "diverging-approach", at(7), at(14))),
        Arguments.of(
            "signal t2e is not clear",
            new Condition.Not(new Condition.SignalIs("t2e", "clear", at(7), at(18)))),
        Arguments.of("route \"t2e t4e\" is locked", new Condition.RouteIsLocked("t2e t4e", at(6))),
        Arguments.of(
            "route r is locked and route s is locked or route t is locked",
            new Condition.Any(
                List.of(
                    new Condition.All(List.of(route("r", 6), route("s", 28))), route("t", 49)))),
        Arguments.of(
            "route r is locked or route s is locked and route t is locked",
            new Condition.Any(
                List.of(
                    route("r", 6), new Condition.All(List.of(route("s", 27), route("t", 49)))))),
        Arguments.of(
            "(route r is locked or route s is locked) and not route t is locked",
            new Condition.All(
                List.of(
                    new Condition.Any(List.of(route("r", 7), route("s", 28))),
                    new Condition.Not(route("t", 55))))),
        Arguments.of(
            "route r is locked and route s is locked and route t is locked",
            new Condition.All(List.of(route("r", 6), route("s", 28), route("t", 50)))),
        Arguments.of(
            "not not route r is locked", new Condition.Not(new Condition.Not(route("r", 14)))),
        Arguments.of("((route r is locked))", route("r", 8)),
        Arguments.of("section x is under permit", isProtected("x", Protected.PERMIT, 8)),
        Arguments.of("section x is flagged", isProtected("x", Protected.FLAG, 8)),
        Arguments.of(
            "section x is not blocked",
            new Condition.Not(isProtected("x", Protected.BLOCKED_SECTION, 8))),
        Arguments.of("switch x is blocked", isProtected("x", Protected.BLOCKED_SWITCH, 7)),
        Arguments.of(
            "signal blocked is blocked", isProtected("blocked", Protected.BLOCKED_SIGNAL, 7)),
        Arguments.of(
            "time is between 06:00 and 22:30 and route r is locked",
            new Condition.All(
                List.of(new Condition.TimeIsBetween(360, 1350, at(16)), route("r", 42)))),
        Arguments.of("district west is tripped", new Condition.DistrictIsTripped("west", at(9))),
        Arguments.of(
            "opening doorway is closed",
            new Condition.OpeningIs("doorway", OpeningState.CLOSED, at(8))),
        Arguments.of(
            "opening open is not open",
            new Condition.Not(new Condition.OpeningIs("open", OpeningState.OPEN, at(8)))),
        Arguments.of(
            "opening doorway is unlocked",
            new Condition.OpeningIs("doorway", OpeningState.UNLOCKED, at(8))),
        Arguments.of(
            "grade crossing mill-road is not warning",
            new Condition.Not(new Condition.CrossingIsWarning("mill-road", at(15)))),
        Arguments.of(
            "time is not between 23:59 and 0:00",
            new Condition.Not(new Condition.TimeIsBetween(1439, 0, at(20)))));
  }

  @ParameterizedTest
  @MethodSource("conditions")
  void conditionMeansWhatItSays(String text, Condition meaning) {
    assertEquals(Optional.of(meaning), Sentences.condition(text, AT, problems));
    assertTrue(problems.none());
  }

  @ParameterizedTest
  @MethodSource("commands")
  void commandSaysItselfSoThatItMeansTheSame(String text, Command meaning) {
    Optional<Command> again = Sentences.command(meaning.words(), AT, problems);
    assertTrue(problems.none(), meaning.words());
    assertEquals(withoutPlaces(meaning), again.map(SentencesTest::withoutPlaces).orElse(""));
  }

  private static String withoutPlaces(Command command) {
    return command.toString().replaceAll("\\w*[pP]lace=f:\\d+:\\d+", "");
  }

  static Stream<Arguments> commands() {
    return Stream.of(
        Arguments.of("line t2e to t4e", new Command.Line("t2e", "t4e", at(5), at(12))),
        Arguments.of("Line T2E TO yard-1", new Command.Line("T2E", "yard-1", at(5), at(12))),
        Arguments.of("cancel t2e", new Command.Cancel("t2e", at(7))),
        Arguments.of("line route t2e-t4e", new Command.LineRoute("t2e-t4e", at(11))),
        Arguments.of("line route to x", new Command.Line("route", "x", at(5), at(14))),
        Arguments.of("fleet t2e to t4e", new Command.Fleet("t2e", "t4e", at(6), at(13))),
        Arguments.of("unfleet t2e", new Command.Unfleet("t2e", at(8))),
        Arguments.of("stack t2e to t4e", new Command.Stack("t2e", "t4e", at(6), at(13))),
        Arguments.of("unstack t2e", new Command.Unstack("t2e", at(8))),
        Arguments.of("call on t2e to t4e", new Command.CallOn("t2e", "t4e", at(8), at(15))),
        Arguments.of(
            "set traffic midway east", new Command.SetTraffic("midway", Heading.EAST, at(12))),
        Arguments.of(
            "name 'Extra 41' on west-main",
            new Command.NameTrain("Extra 41", "west-main", at(5), at(19))),
        Arguments.of("drop name 'Extra 41'", new Command.DropName("Extra 41", at(10))),
        Arguments.of(
            "acknowledge 'district east is tripped'",
            new Command.Acknowledge("district east is tripped", at(12))),
        Arguments.of(
            "ask for \"release q1 to 'Extra 41'\" by 'Extra 41'",
            new Command.Ask("release q1 to 'Extra 41'", "Extra 41", at(8))),
        Arguments.of("withdraw ask 7", new Command.Withdraw("7", at(13))),
        Arguments.of(
            "release quarry to 'Extra 41'",
            new Command.Release("quarry", Optional.of("Extra 41"), at(8))),
        Arguments.of("release quarry", new Command.Release("quarry", Optional.empty(), at(8))),
        Arguments.of("secure quarry", new Command.Secure("quarry", at(7))),
        Arguments.of("throw t1 normal", new Command.Throw("t1", Position.NORMAL, at(6))),
        Arguments.of("throw normal reverse", new Command.Throw("normal", Position.REVERSE, at(6))),
        Arguments.of("lock doorway", new Command.Lock("doorway", at(5))),
        Arguments.of("unlock lock", new Command.Unlock("lock", at(7))),
        Arguments.of("run 'Extra 41'", new Command.Run("Extra 41", Optional.empty(), at(4))),
        Arguments.of("run west west", new Command.Run("west", Optional.of(Heading.WEST), at(4))),
        Arguments.of(
            "run \"Engineer's Special\" east",
            new Command.Run("Engineer's Special", Optional.of(Heading.EAST), at(4))),
        Arguments.of(
            "throw y1 reverse for 'Way Freight'",
            new Command.ThrowFor("y1", Position.REVERSE, "Way Freight", at(6))),
        Arguments.of(
            "grant permit to 'Way Freight' on mill-branch, yard-lead,mill-branch",
            new Command.GrantPermit(
                "Way Freight", List.of("mill-branch", "yard-lead"), Optional.empty(), at(16))),
        Arguments.of(
            "Grant Permit to ' Way Freight ' ON permit BECAUSE 'tie renewal'",
            new Command.GrantPermit(
                "Way Freight", List.of("permit"), Optional.of("tie renewal"), at(16))),
        Arguments.of("return permit of 41", new Command.ReturnPermit("41", at(17))),
        Arguments.of(
            "block signal t2e for 'Section crew' because 'rail work'",
            new Command.Block(
                Device.SIGNAL, "t2e", "Section crew", Optional.of("rail work"), at(13))),
        Arguments.of(
            "block switch t1 for Hobbs",
            new Command.Block(Device.SWITCH, "t1", "Hobbs", Optional.empty(), at(13))),
        Arguments.of(
            "unblock section blocked", new Command.Unblock(Device.SECTION, "blocked", at(16))),
        Arguments.of(
            "flag creamery by 'Plant crew'",
            new Command.Flag("creamery", "Plant crew", Optional.empty(), at(5))),
        Arguments.of(
            "unflag creamery by 'Plant crew'", new Command.Unflag("creamery", "Plant crew", at(7))),
        Arguments.of("confirm protections", new Command.ConfirmProtections()),
        Arguments.of(
            "pick up Reefers with 'Extra 41'",
            new Command.PickUp("Reefers", "Extra 41", Optional.empty(), at(8), at(21))),
        Arguments.of(
            "pick up cars with 41 west",
            new Command.PickUp("cars", "41", Optional.of(Heading.WEST), at(8), at(18))),
        Arguments.of(
            "set out 3 cars of 'Extra 41' as Reefers",
            new Command.SetOut(3, Optional.empty(), "Extra 41", "Reefers", at(18), at(32))),
        Arguments.of(
            "set out 1 front car of 41 as car",
            new Command.SetOut(1, Optional.of(End.FRONT), "41", "car", at(23), at(29))),
        Arguments.of("  halt\n41 ", new Command.Halt("41", at(7))),
        Arguments.of("cancel clock", new Command.Cancel("clock", at(7))),
        Arguments.of("start clock", new Command.StartClock()),
        Arguments.of("STOP Clock", new Command.StopClock()),
        Arguments.of("set clock to 06:30", new Command.SetClock(new Time(6, 30))),
        Arguments.of("set clock to 6:30", new Command.SetClock(new Time(6, 30))),
        // S-9.7.4.5 §4.4: rates are quarters from -512 to 511.75.
        Arguments.of("set clock rate to 4", new Command.SetClock(new Rate(16))),
        Arguments.of("set clock rate to 4:1", new Command.SetClock(new Rate(16))),
        Arguments.of("set clock rate to 0.25", new Command.SetClock(new Rate(1))),
        Arguments.of("set clock rate to -1", new Command.SetClock(new Rate(-4))),
        Arguments.of("set clock rate to 511.75", new Command.SetClock(new Rate(2047))),
        Arguments.of("set clock rate to -512", new Command.SetClock(new Rate(-2048))));
  }

  @ParameterizedTest
  @MethodSource("commands")
  void commandMeansWhatItSays(String text, Command meaning) {
    assertEquals(Optional.of(meaning), Sentences.command(text, AT, problems));
    assertTrue(problems.none());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
      ``                                  | f:3:11: there is no condition here; write for example: section tilling-w is clear
      sectoin x is clear                  | f:3:11: 'sectoin' starts no condition; did you mean 'section'?
      bridge x is clear                   | f:3:11: 'bridge' starts no condition; start it with 'not', 'section', 'switch', 'signal', 'route', 'traffic', 'time', 'district' or 3 more
      opening doorway is clear            | f:3:30: 'clear' does not fit after 'opening doorway is'; write 'locked', 'closed', 'open' or 'unlocked'
      grade mill-road is warning          | f:3:17: 'crossing' is missing after 'grade'; write for example: grade crossing mill-road is warning
      district west is clear              | f:3:28: 'tripped' is missing after 'district west is'; write for example: district west is tripped
      section                             | f:3:18: a name is missing after 'section'; write for example: section tilling-w is clear
      section is clear                    | f:3:19: a name is missing after 'section'; write for example: section tilling-w is clear
      section tilling_w is clear          | f:3:19: 'tilling_w' cannot be a name; names have letters, digits and hyphens; others stand in quotes
      section '' is clear                 | f:3:19: '' cannot be a name; names have letters, digits and hyphens; others stand in quotes
      section 'tilling w is clear         | f:3:19: this quote is never closed; add ' at the end of the name
      section tilling-w                   | f:3:28: 'is' is missing after 'section tilling-w'; write for example: section tilling-w is clear
      section tilling-w clear             | f:3:29: 'is' is missing after 'section tilling-w'; write for example: section tilling-w is clear
      section tilling-w iss clear         | f:3:29: 'iss' does not fit here; did you mean 'is'?
      section tilling-w is                | f:3:31: 'clear', 'occupied', 'unknown', 'blocked', 'flagged' or 'under' is missing after 'section tilling-w is'; write for example: section tilling-w is clear
      section tilling-w is claer          | f:3:32: 'claer' does not fit here; did you mean 'clear'?
      section tilling-w is free           | f:3:32: 'free' does not fit after 'section tilling-w is'; write 'clear', 'occupied', 'unknown', 'blocked', 'flagged' or 'under'
      section tilling-w is not            | f:3:35: 'clear', 'occupied', 'unknown', 'blocked', 'flagged' or 'under' is missing after 'section tilling-w is not'; write for example: section tilling-w is clear
      switch t1 is reversed               | f:3:24: 'reversed' does not fit here; did you mean 'reverse'?
      switch t1 is left                   | f:3:24: 'left' does not fit after 'switch t1 is'; write 'normal', 'reverse' or 'blocked'
      section a is under                  | f:3:29: 'permit' is missing after 'section a is under'; write for example: section tilling-w is clear
      signal t2e is                       | f:3:24: an aspect is missing after 'signal t2e is'; write for example: signal t2e is approach
      route r is                          | f:3:21: 'locked' is missing after 'route r is'; write for example: route t2e-t4e is locked
      route r is free                     | f:3:22: 'locked' is missing after 'route r is'; write for example: route t2e-t4e is locked
      route r is locked and               | f:3:32: a condition is missing after 'and'; write for example: section tilling-w is clear
      route r is locked route s is locked | f:3:29: 'route' does not fit after 'route r is locked'; join conditions with 'and' or 'or'
      route r is locked adn route s is locked | f:3:29: 'adn' does not fit after 'route r is locked'; did you mean 'and'?
      (route r is locked                  | f:3:11: this '(' is never closed; add ')'
      route r is locked)                  | f:3:28: this ')' closes nothing; remove it
      ()                                  | f:3:12: ')' starts no condition; start it with 'not', 'section', 'switch', 'signal', 'route', 'traffic', 'time', 'district' or 3 more
      time is between noon and 22:00      | f:3:27: a time of day is missing after 'time is between'; write for example: time is between 06:00 and 22:00
      time is between 06:00 and 26:00     | f:3:37: a time of day is missing after 'time is between 06:00 and'; write for example: time is between 06:00 and 22:00
      line t2e to t4e                     | f:3:11: 'line' starts no condition; start it with 'not', 'section', 'switch', 'signal', 'route', 'traffic', 'time', 'district' or 3 more
      """)
  void wrongConditionIsToldInTradeWords(String text, String message) {
    assertEquals(Optional.empty(), Sentences.condition(text, AT, problems));
    assertEquals(message, told());
  }

  @ParameterizedTest
  @CsvSource(
      textBlock =
          """
      06:00, 22:00, 05:59, false
      06:00, 22:00, 06:00, true
      06:00, 22:00, 21:59, true
      06:00, 22:00, 22:00, false
      22:00, 06:00, 23:00, true
      22:00, 06:00, 05:59, true
      22:00, 06:00, 06:00, false
      06:00, 06:00, 12:00, true
      """)
  void spanOfTimeHasItsFirstMinuteAndNotItsLast(
      String from, String to, LocalTime time, boolean inside) {
    var span =
        (Condition.TimeIsBetween)
            Sentences.condition("time is between %s and %s".formatted(from, to), AT, problems)
                .orElseThrow();
    assertEquals(inside, span.contains(time.toSecondOfDay() / 60));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
      ``                       | f:3:11: there is no command here; write for example: line t2e to t4e
      thorw t1 reverse         | f:3:11: 'thorw' starts no command; did you mean 'throw'?
      kindly throw t1 reverse  | f:3:11: 'kindly' starts no command; start it with 'line', 'fleet', 'unfleet', 'call', 'stack', 'unstack', 'cancel', 'throw' or 22 more
      line t2e                 | f:3:19: 'to' is missing after 'line t2e'; write for example: line t2e to t4e
      line t2e t4e             | f:3:20: 'to' is missing after 'line t2e'; write for example: line t2e to t4e
      line t2e to              | f:3:22: a name is missing after 'line t2e to'; write for example: line t2e to t4e
      line to t4e              | f:3:16: a name is missing after 'line'; write for example: line t2e to t4e
      set out 3 cars           | f:3:25: 'of' is missing after 'set out 3 cars'; write for example: set out 3 cars of 'Extra 41' as Reefers
      set out cars of x as y   | f:3:19: a number of cars is missing after 'set out'; write for example: set out 3 cars of 'Extra 41' as Reefers
      set out 0 cars of x as y | f:3:19: '0' is not a number of cars from 1 to 999; write for example 3
      set out 2.5 cars of x as y | f:3:19: '2.5' is not a number of cars from 1 to 999; write for example 3
      pick up x                | f:3:20: 'with' is missing after 'pick up x'; write for example: pick up Reefers with 'Extra 41'
      pick up x with y eest    | f:3:28: 'eest' does not fit after 'pick up x with y'; did you mean 'east'?
      throw t1                 | f:3:19: 'normal' or 'reverse' is missing after 'throw t1'; write for example: throw t1 reverse
      throw t1 revers          | f:3:20: 'revers' does not fit here; did you mean 'reverse'?
      throw t1 reverse please  | f:3:28: 'please' does not fit after 'throw t1 reverse'; write for example: throw t1 reverse
      run Extra 41             | f:3:21: '41' does not fit after 'run Extra'; write for example: run 'Extra 41' east
      run Extra eats           | f:3:21: 'eats' does not fit after 'run Extra'; did you mean 'east'?
      release quarry Extra     | f:3:26: 'Extra' does not fit after 'release quarry'; write for example: release quarry to 'Extra 41'
      release quarry to        | f:3:28: a name is missing after 'release quarry to'; write for example: release quarry to 'Extra 41'
      secure                   | f:3:17: a name is missing after 'secure'; write for example: secure quarry
      secure quarry now        | f:3:25: 'now' does not fit after 'secure quarry'; write for example: secure quarry
      halt "Extra 41           | f:3:16: this quote is never closed; add " at the end of the name
      cancel                   | f:3:17: a name is missing after 'cancel'; write for example: cancel t2e
      start                    | f:3:16: 'clock' is missing after 'start'; write for example: start clock
      stop clokc               | f:3:16: 'clokc' does not fit here; did you mean 'clock'?
      start clock now          | f:3:23: 'now' does not fit after 'start clock'; write for example: start clock
      set clock                | f:3:20: 'to' or 'rate' is missing after 'set clock'; write for example: set clock to 06:30
      set clock 06:30          | f:3:21: '06:30' does not fit after 'set clock'; write 'to' or 'rate'
      set clock to noon        | f:3:24: a time of day is missing after 'set clock to'; write for example: set clock to 06:30
      set clock to 24:00       | f:3:24: a time of day is missing after 'set clock to'; write for example: set clock to 06:30
      set clock rate to        | f:3:28: a rate is missing after 'set clock rate to'; write for example: set clock rate to 4
      set clock rate 4         | f:3:26: 'to' is missing after 'set clock rate'; write for example: set clock rate to 4
      set clock rate to fast   | f:3:29: 'fast' is no rate of a clock; write for example 4 or 0.25
      set clock rate to 0.3    | f:3:29: a clock cannot run at rate 0.3; the nearest it can is 0.25
      set clock rate to 0.1    | f:3:29: a clock cannot run at rate 0.1; the nearest it can is 0.25
      set clock rate to -0.1   | f:3:29: a clock cannot run at rate -0.1; the nearest it can is -0.25
      set clock rate to 1000   | f:3:29: a clock cannot run at rate 1000; the nearest it can is 511.75
      set clock rate to -1000  | f:3:29: a clock cannot run at rate -1000; the nearest it can is -512
      set clock rate to 0      | f:3:29: a clock with rate 0 stands still; stop the clock instead, and start it later
      grant                    | f:3:16: 'permit' is missing after 'grant'; write for example: grant permit to 'Way Freight' on mill-branch, yard-lead
      grant permit to 'Way Freight' | f:3:40: 'on' is missing after 'grant permit to 'Way Freight''; write for example: grant permit to 'Way Freight' on mill-branch, yard-lead
      grant permit to X on a,  | f:3:34: a name is missing after 'grant permit to X on a,'; write for example: grant permit to 'Way Freight' on mill-branch, yard-lead
      grant permit to X on a b | f:3:34: 'b' does not fit after 'grant permit to X on a'; write for example: grant permit to 'Way Freight' on mill-branch, yard-lead
      grant permit to '  ' on a | f:3:27: a name is more than blanks; write it between the quotes
      return permit            | f:3:24: 'of' is missing after 'return permit'; write for example: return permit of 'Way Freight'
      block t2e for X          | f:3:17: 't2e' does not fit after 'block'; write 'section', 'switch' or 'signal'
      block singal t2e for X   | f:3:17: 'singal' does not fit here; did you mean 'signal'?
      block signal t2e         | f:3:27: 'for' is missing after 'block signal t2e'; write for example: block signal t2e for 'Section crew' because 'rail work'
      block signal t2e for X because | f:3:41: a reason is missing after 'block signal t2e for X because'; write for example: block signal t2e for 'Section crew' because 'rail work'
      block signal t2e for X rail work | f:3:34: 'rail' does not fit after 'block signal t2e for X'; write for example: block signal t2e for 'Section crew' because 'rail work'
      unblock                  | f:3:18: 'section', 'switch' or 'signal' is missing after 'unblock'; write for example: unblock signal t2e
      flag creamery            | f:3:24: 'by' is missing after 'flag creamery'; write for example: flag creamery by 'Plant crew'
      unflag creamery          | f:3:26: 'by' is missing after 'unflag creamery'; write for example: unflag creamery by 'Plant crew'
      confirm                  | f:3:18: 'protections' is missing after 'confirm'; write for example: confirm protections
      throw t1 reverse for     | f:3:31: a name is missing after 'throw t1 reverse for'; write for example: throw t1 reverse
      set clock rate to 4 please | f:3:31: 'please' does not fit after 'set clock rate to 4'; write for example: set clock rate to 4
      """)
  void wrongCommandIsToldInTradeWords(String text, String message) {
    assertEquals(Optional.empty(), Sentences.command(text, AT, problems));
    assertEquals(message, told());
  }

  @Test
  void sentenceIsBoundedInLengthAndNesting() {
    Sentences.condition("(".repeat(1_001), AT, problems);
    Sentences.condition("(".repeat(1_000), AT, problems);
    assertEquals(
        """
        f:3:11: the sentence has 1,001 characters; the most that is read is 1,000
        f:3:51: the sentence has more than 40 'not' and '('; split it""",
        told());
  }

  // Who holds a protection is shown and kept: nobody may write a second line into a page or a file.
  @ParameterizedTest
  @ValueSource(strings = {"X\nY", "X\tY", "X\u2028Y", "X\u202eY", "X\u0000"})
  void nameOfPeopleStandsOnOneLine(String name) {
    Sentences.command("return permit of '" + name + "'", AT, problems);
    assertEquals("f:3:28: a name stands on one line; take the odd characters out", told());
  }

  @Test
  void reasonIsBoundedInLength() {
    Sentences.command("block signal a for b because '" + "x".repeat(101) + "'", AT, problems);
    assertEquals("f:3:40: a reason of 101 characters is too long; the most is 100", told());
  }

  @Test
  void deepestNestingAllowedIsRead() {
    var text = "not ".repeat(Sentences.NESTING_MAX) + "route r is locked";
    assertTrue(Sentences.condition(text, AT, problems).isPresent());
  }

  @Test
  void garbageNeverThrowsAndIsAlwaysTold() {
    long seed = new Random().nextLong();
    System.out.println("SentencesTest.garbageNeverThrowsAndIsAlwaysTold seed " + seed);
    var random = new Random(seed);
    var words =
        List.of(
            "section",
            "switch",
            "signal",
            "route",
            "is",
            "not",
            "and",
            "or",
            "to",
            "line",
            "run",
            "throw",
            "cancel",
            "halt",
            "start",
            "set",
            "clock",
            "rate",
            "06:30",
            "0.3",
            "clear",
            "locked",
            "block",
            "permit",
            "for",
            "because",
            ",",
            "normal",
            "east",
            "(",
            ")",
            "x",
            "'a b'",
            "'",
            "\"",
            "_",
            "\uD83D\uDE82",
            "\u00e9",
            "\u0000",
            "\uD800",
            "-",
            "''");
    for (int round = 0; round < 5_000; round++) {
      var text =
          random
              .ints(random.nextInt(12), 0, words.size())
              .mapToObj(words::get)
              .collect(Collectors.joining(random.nextInt(5) == 0 ? "" : " "));
      assertReadOrTold(text, seed);
    }
  }

  private static void assertReadOrTold(String text, long seed) {
    var noted = new Problems();
    boolean condition = Sentences.condition(text, AT, noted).isPresent();
    assertEquals(condition, noted.none(), () -> "seed " + seed + ", condition " + text);

    var notedToo = new Problems();
    boolean command = Sentences.command(text, AT, notedToo).isPresent();
    assertEquals(command, notedToo.none(), () -> "seed " + seed + ", command " + text);
  }

  private String told() {
    return problems.sorted().stream().map(Problem::toString).collect(Collectors.joining("\n"));
  }

  private static Condition section(String name, Occupancy occupancy, int offset) {
    return new Condition.SectionIs(name, occupancy, at(offset));
  }

  private static Condition isProtected(String device, Protected by, int offset) {
    return new Condition.IsProtected(device, by, at(offset));
  }

  private static Condition route(String name, int offset) {
    return new Condition.RouteIsLocked(name, at(offset));
  }

  private static Place at(int offset) {
    return new Place(AT.file(), AT.line(), AT.column() + offset);
  }
}
