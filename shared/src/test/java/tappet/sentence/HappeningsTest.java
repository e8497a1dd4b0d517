package tappet.sentence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.sentence.Condition.TrainState;
import tappet.sentence.Happening.EmergencyKind;
import tappet.sentence.Happening.EventFault;
import tappet.sentence.Happening.Report;
import tappet.sentence.Happening.Reporter;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/** What scenarios say: what befalls a railroad, and what only they can see of it. */
class HappeningsTest {

  private static final Place AT = new Place("f", 3, 11);

  private final Problems problems = new Problems();

  static Stream<Arguments> happenings() {
    return Stream.of(
        Arguments.of(
            "section tilling-w reports clear",
            reports(Reporter.SECTION, "tilling-w", new Report.Of("clear"), 8)),
        Arguments.of(
            "Section tilling-w Reports OCCUPIED",
            reports(Reporter.SECTION, "tilling-w", new Report.Of("occupied"), 8)),
        Arguments.of(
            "section tilling-w flickers", new Happening.SectionFlickers("tilling-w", at(8))),
        Arguments.of(
            "section mid-west is shorted", new Happening.SectionIsShorted("mid-west", true, at(8))),
        Arguments.of(
            "section mid-west is mended", new Happening.SectionIsShorted("mid-west", false, at(8))),
        Arguments.of(
            "switch t1 reports nothing", reports(Reporter.SWITCH, "t1", new Report.Nothing(), 7)),
        Arguments.of(
            "switch t1 reports both", reports(Reporter.SWITCH, "t1", new Report.Both(), 7)),
        Arguments.of(
            "lock of q1 reports the truth", reports(Reporter.LOCK, "q1", new Report.Truth(), 8)),
        Arguments.of(
            "lock of q1 reports released",
            reports(Reporter.LOCK, "q1", new Report.Of("released"), 8)),
        Arguments.of(
            "opening doorway reports open",
            reports(Reporter.OPENING, "doorway", new Report.Of("open"), 8)),
        Arguments.of(
            "bolt of doorway reports unlocked",
            reports(Reporter.BOLT, "doorway", new Report.Of("unlocked"), 8)),
        Arguments.of(
            "breaker of east reports restored",
            reports(Reporter.BREAKER, "east", new Report.Of("restored"), 11)),
        Arguments.of(
            "spot fallow-spot reports passed",
            new Happening.SpotReports("fallow-spot", "passed", at(5))),
        Arguments.of("motor of t1 sticks", new Happening.MotorSticks("t1", at(9))),
        Arguments.of(
            "motor of t1 takes 6 s", new Happening.MotorTakes("t1", Duration.ofSeconds(6), at(9))),
        Arguments.of(
            "motor of t1 takes 1.5 s",
            new Happening.MotorTakes("t1", Duration.ofMillis(1500), at(9))),
        Arguments.of("motor of t1 is mended", new Happening.MotorIsMended("t1", at(9))),
        Arguments.of("bolt of doorway sticks", new Happening.BoltSticks("doorway", at(8))),
        Arguments.of("bolt of doorway is mended", new Happening.BoltIsMended("doorway", at(8))),
        Arguments.of(
            "lamp top-green of t2e burns out",
            new Happening.LampBurnsOut("top-green", "t2e", at(5), at(18))),
        Arguments.of(
            "lamp lamp of t2e is replaced",
            new Happening.LampIsReplaced("lamp", "t2e", at(5), at(13))),
        Arguments.of("breaker of east trips", new Happening.BreakerTrips("east", at(11))),
        Arguments.of(
            "breaker of east is restored", new Happening.BreakerIsRestored("east", at(11))),
        Arguments.of(
            "board tilling loses its next event",
            new Happening.BoardFails("tilling", EventFault.LOSES, at(6))),
        Arguments.of(
            "board tilling misses its next event",
            new Happening.BoardFails("tilling", EventFault.MISSES, at(6))),
        Arguments.of(
            "board tilling repeats its next event",
            new Happening.BoardFails("tilling", EventFault.REPEATS, at(6))),
        Arguments.of(
            "board tilling is late by 800 ms",
            new Happening.BoardIsLate("tilling", Duration.ofMillis(800), at(6))),
        Arguments.of(
            "board tilling falls silent", new Happening.BoardFallsSilent("tilling", at(6))),
        Arguments.of(
            "board tilling speaks again", new Happening.BoardSpeaksAgain("tilling", at(6))),
        Arguments.of("board tilling reboots", new Happening.BoardReboots("tilling", at(6))),
        Arguments.of("board tilling browns out", new Happening.BoardBrownsOut("tilling", at(6))),
        Arguments.of("alias of tilling clashes", new Happening.AliasClashes("tilling", at(9))),
        Arguments.of("opening doorway is opened", new Happening.OpeningIsOpened("doorway", at(8))),
        Arguments.of("opening doorway is closed", new Happening.OpeningIsClosed("doorway", at(8))),
        Arguments.of(
            "crew throws q1 reverse", new Happening.CrewThrows("q1", Position.REVERSE, at(12))),
        Arguments.of(
            "crew forces t1 normal", new Happening.CrewForces("t1", Position.NORMAL, at(12))),
        Arguments.of(
            "crew asks for y3 reverse", new Happening.CrewAsks("y3", Position.REVERSE, at(14))),
        Arguments.of("crew breaks lock of q1", new Happening.CrewBreaksLock("q1", at(20))),
        Arguments.of(
            "button quarry-call is pressed", new Happening.ButtonIs("quarry-call", true, at(7))),
        Arguments.of(
            "button quarry-call is released", new Happening.ButtonIs("quarry-call", false, at(7))),
        Arguments.of("cable is pulled", new Happening.CableIs(false)),
        Arguments.of("cable is plugged in", new Happening.CableIs(true)),
        Arguments.of("daemon is stopped", new Happening.DaemonIs(false)),
        Arguments.of("daemon is started", new Happening.DaemonIs(true)),
        Arguments.of(
            "train 'Extra 41' loses its brakes", new Happening.TrainLosesBrakes("Extra 41", at(6))),
        Arguments.of("train 'Extra 41' is lifted", new Happening.TrainIsLifted("Extra 41", at(6))),
        Arguments.of(
            "train 'Extra 41' ignores signals", new Happening.Engineer("Extra 41", false, at(6))),
        Arguments.of(
            "train 'Extra 41' obeys signals", new Happening.Engineer("Extra 41", true, at(6))),
        Arguments.of("emergency stop is called", new Happening.Emergency(EmergencyKind.STOP, true)),
        Arguments.of(
            "emergency off is cleared", new Happening.Emergency(EmergencyKind.OFF, false)));
  }

  @ParameterizedTest
  @MethodSource("happenings")
  void happeningIsUnderstood(String text, Happening meaning) {
    assertEquals(Optional.of(meaning), Sentences.happening(text, AT, problems));
    assertEquals(List.of(), problems.sorted());
  }

  @Test
  void everyHappeningThereIsIsAmongThem() {
    Set<Class<?>> tried = new HashSet<>();
    happenings().forEach(arguments -> tried.add(arguments.get()[1].getClass()));
    Stream.of(Happening.class.getPermittedSubclasses())
        .forEach(kind -> assertTrue(tried.contains(kind), kind::getName));
  }

  static Stream<Arguments> expectations() {
    return Stream.of(
        Arguments.of(
            "train 'Extra 41' is on tilling-w",
            new Condition.TrainIsOn("Extra 41", "tilling-w", at(6), at(23))),
        Arguments.of("train X waits at t2e", new Condition.TrainWaitsAt("X", "t2e", at(6), at(17))),
        Arguments.of("train X stands", new Condition.TrainIs("X", TrainState.STANDS, at(6))),
        Arguments.of("train X runs", new Condition.TrainIs("X", TrainState.RUNS, at(6))),
        Arguments.of(
            "train X is not wrecked",
            new Condition.Not(new Condition.TrainIs("X", TrainState.WRECKED, at(6)))),
        Arguments.of(
            "train X is at end of track",
            new Condition.TrainIs("X", TrainState.AT_END_OF_TRACK, at(6))),
        Arguments.of("train X is foul", new Condition.TrainIs("X", TrainState.FOUL, at(6))),
        Arguments.of("train X has 12 cars", new Condition.TrainHas("X", 12, at(6))),
        Arguments.of("train cars has 1 car", new Condition.TrainHas("cars", 1, at(6))),
        Arguments.of("train X has 0 cars", new Condition.TrainHas("X", 0, at(6))),
        Arguments.of("lamp quarry-red is lit", new Condition.LampIsLit("quarry-red", at(5))),
        Arguments.of("lock of q1 is secured", new Condition.LockIs("q1", LockState.SECURED, at(8))),
        Arguments.of("alarm 'is tripped' stands", new Condition.AlarmStands("is tripped", at(6))),
        Arguments.of(
            "not (train X runs or lamp a is lit) and lock of q1 is released",
            new Condition.All(
                List.of(
                    new Condition.Not(
                        new Condition.Any(
                            List.of(
                                new Condition.TrainIs("X", TrainState.RUNS, at(11)),
                                new Condition.LampIsLit("a", at(26))))),
                    new Condition.LockIs("q1", LockState.RELEASED, at(48))))));
  }

  @ParameterizedTest
  @MethodSource("expectations")
  void expectationIsUnderstood(String text, Condition meaning) {
    assertEquals(Optional.of(meaning), Sentences.expectation(text, AT, problems));
    assertEquals(List.of(), problems.sorted());
  }

  /** A rule must not depend on what no board tells. */
  @ParameterizedTest
  @ValueSource(
      strings = {"train X runs", "lamp a is lit", "lock of q1 is released", "alarm a stands"})
  void ruleCannotSpeakOfWhatOnlyAScenarioSees(String text) {
    assertEquals(Optional.empty(), Sentences.condition(text, AT, problems));
    assertEquals(1, problems.sorted().size());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "''|1|there is no happening here|write for example: section tilling-w reports clear",
        "bord tilling reboots|1|'bord' starts no happening|did you mean 'board'?",
        "section a reports cleer|19|'cleer' does not fit here|did you mean 'clear'?",
        "motor of t1 takes|18|a time with its unit is missing after 'motor of t1 takes'|"
            + "write for example: motor of t1 takes 6 s",
        "motor of t1 takes 6 parsecs|19|'6 parsecs' is not a time with its unit (ms, s, min, h)|"
            + "write for example 800 ms",
        "motor of t1 takes 0 s|19|a motor takes some time|write for example 6 s",
        "board tilling reboots twice|23|'twice' does not fit after 'board tilling reboots'|"
            + "write for example: board tilling falls silent",
        "motor of|9|a name is missing after 'motor of'|write for example: motor of t1 takes 6 s",
        "board a reboot|9|'reboot' does not fit here|did you mean 'reboots'?",
        "board a browns|15|'out' is missing after 'board a browns'|"
            + "write for example: board tilling falls silent",
        "daemon is stoped|11|'stoped' does not fit here|did you mean 'stopped'?",
        "train a loses brakes|15|'its' is missing after 'train a loses'|"
            + "write for example: train 'Extra 41' is lifted",
        "crew trows q1 reverse|6|'trows' does not fit here|did you mean 'throws'?",
        "bolt of a sticcks|11|'sticcks' does not fit here|did you mean 'sticks'?",
        "train a obeys|14|'signals' is missing after 'train a obeys'|"
            + "write for example: train 'Extra 41' is lifted",
        "alias of a|11|'clashes' is missing after 'alias of a'|"
            + "write for example: alias of tilling clashes",
      })
  void mistakeIsToldWhereItIs(String text, int column, String wrong, String meant) {
    assertEquals(Optional.empty(), Sentences.happening(text, AT, problems));
    assertEquals(List.of(new Problem(at(column - 1), wrong, meant)), problems.sorted());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "train X wait at t2e|9|'wait' does not fit here|did you mean 'waits'?",
        "train X is wrecket|12|'wrecket' does not fit here|did you mean 'wrecked'?",
        "train X has cars|13|a number of cars is missing after 'train X has'|"
            + "write for example: train 'Extra 41' waits at t2e",
        "train X has many cars|13|'many' is not a number of cars from 0 to 999|write for example 3",
        "train X has 3|14|'car' or 'cars' is missing after 'train X has 3'|"
            + "write for example: train 'Extra 41' waits at t2e",
        "trian X runs|1|'trian' starts no condition|did you mean 'train'?",
        "lamp a is lit and|18|a condition is missing after 'and'|"
            + "write for example: section tilling-w is clear",
        "lock of q1 is open|15|'open' does not fit after 'lock of q1 is'|"
            + "write 'released' or 'secured'",
      })
  void mistakeInWhatIsSeenIsToldWhereItIs(String text, int column, String wrong, String meant) {
    assertEquals(Optional.empty(), Sentences.expectation(text, AT, problems));
    assertEquals(List.of(new Problem(at(column - 1), wrong, meant)), problems.sorted());
  }

  /** Words of scenarios are names elsewhere, as all words of the language are. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "reports",
        "board",
        "released",
        "track",
        "event",
        "crew",
        "in",
        "up",
        "cars",
        "out"
      })
  void wordOfAScenarioCanBeAName(String name) {
    assertTrue(Sentences.condition("switch " + name + " is normal", AT, problems).isPresent());
    assertTrue(Sentences.happening("motor of " + name + " sticks", AT, problems).isPresent());
  }

  @Test
  void anyHeapOfWordsIsUnderstoodOrIsOneMistake() {
    long seed = new SplittableRandom().nextLong();
    System.out.println("HappeningsTest.anyHeapOfWordsIsUnderstoodOrIsOneMistake seed " + seed);
    SplittableRandom dice = new SplittableRandom(seed);
    List<String> words = new ArrayList<>();
    Stream.concat(happenings(), expectations())
        .forEach(arguments -> words.addAll(List.of(String.valueOf(arguments.get()[0]).split(" "))));
    for (int heap = 0; heap < 3_000; heap++) {
      List<String> text = new ArrayList<>();
      int length = 1 + dice.nextInt(7);
      for (int word = 0; word < length; word++) {
        text.add(words.get(dice.nextInt(words.size())));
      }
      String sentence = String.join(" ", text);
      Problems happening = new Problems();
      Problems expectation = new Problems();
      boolean happens = Sentences.happening(sentence, AT, happening).isPresent();
      boolean expected = Sentences.expectation(sentence, AT, expectation).isPresent();
      assertEquals(happens ? 0 : 1, happening.sorted().size(), sentence);
      assertEquals(expected ? 0 : 1, expectation.sorted().size(), sentence);
    }
  }

  private static Happening reports(Reporter reporter, String id, Report report, int offset) {
    return new Happening.Reports(reporter, id, report, at(offset));
  }

  private static Place at(int offset) {
    return new Place("f", 3, 11 + offset);
  }
}
