package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.view.Demo;
import tappet.bridge.view.Sight;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** PINs, guesses and sessions, on a clock of the test's own. */
class GateTest {

  private static final String NO_KEY = "";
  private static Pins.Made made;

  private long nowNs = 1;
  private Gate gate = gate(Runnable::run);

  @BeforeAll
  static void makePins() {
    made = Pins.make();
  }

  private Gate gate(Executor slowly) {
    Territories territories =
        new Territories(
            Demo.layout(),
            Demo.table(),
            Map.of("west", List.of("fallow", "tilling"), "east", List.of("midway", "corvane")));
    return new Gate(made.pins(), territories, slowly, Runnable::run, () -> nowNs);
  }

  private static Map<String, List<String>> form(Role role, String pin, String name) {
    return Map.of("role", List.of(role.word()), "pin", List.of(pin), "name", List.of(name));
  }

  private CompletableFuture<Gate.Entered> entering(String from, String pin) {
    return gate.enter(from, NO_KEY, form(Role.CREW, pin, "Ida"));
  }

  private Gate.Entered enter(String from, String pin) {
    return entering(from, pin).join();
  }

  private Gate.Entered take(String name, String territory, String key) {
    return gate.enter(
            "a",
            key,
            Map.of(
                "role", List.of("dispatcher"),
                "pin", List.of(made.told().get(Role.DISPATCHER)),
                "name", List.of(name),
                "territory", List.of(territory)))
        .join();
  }

  private static Session session(Gate.Entered entered) {
    return entered.session().orElseThrow(() -> new AssertionError(entered.words()));
  }

  private boolean isOver(Session session) {
    return gate.session(session.key()).isNobody();
  }

  @Test
  void eachRoleHasItsOwnPin() {
    Pins pins = made.pins();
    assertTrue(pins.fits(Role.CREW, made.told().get(Role.CREW)));
    assertFalse(pins.fits(Role.OWNER, made.told().get(Role.CREW)));
    assertFalse(pins.fits(Role.CREW, ""));
  }

  /** bcrypt looks at 72 bytes. */
  @ParameterizedTest
  @ValueSource(ints = {71, 72, 73, 5_000})
  void longPinIsAWrongOne(int length) {
    assertEquals(403, enter("a", "1".repeat(length)).status());
  }

  @Test
  void whoGuessesHasToWaitLongerEachTime() {
    String right = made.told().get(Role.CREW);
    for (int left = Guesses.FREE - 1; left > 0; left--) {
      assertEquals("wrong PIN; " + left + " tries left", enter("a", "x").words());
    }
    assertEquals("wrong PIN; wait a while", enter("a", "x").words());
    Gate.Entered tooSoon = enter("a", right);
    assertEquals(429, tooSoon.status());
    assertEquals("too many wrong PINs; wait 30 s", tooSoon.words());
    assertTrue(enter("b", right).session().isPresent());
    nowNs += Guesses.FIRST_WAIT.toNanos();
    assertEquals(403, enter("a", "x").status());
    assertEquals("too many wrong PINs; wait 60 s", enter("a", "x").words());
    nowNs += Duration.ofSeconds(60).toNanos();
    assertTrue(enter("a", right).session().isPresent());
  }

  @Test
  void guessesFromManyAddressesHoldUpEverybody() {
    Guesses guesses = new Guesses();
    for (int guess = 0; guess < Guesses.FREE_OF_ALL; guess++) {
      guesses.wrong("address " + guess, nowNs);
    }
    assertEquals(Guesses.FIRST_WAIT, guesses.wait("another", nowNs));
    assertEquals(Duration.ZERO, guesses.wait("another", nowNs + Guesses.FIRST_WAIT.toNanos()));
  }

  /** However many there were: a typo now and then is nobody's guessing. */
  @Test
  void wrongPinsOfLongAgoAreForgiven() {
    Guesses guesses = new Guesses();
    for (int guess = 0; guess < 2 * Guesses.FREE_OF_ALL; guess++) {
      guesses.wrong("a", nowNs);
    }
    nowNs += Guesses.LONGEST_WAIT.toNanos() + 1;
    guesses.wrong("a", nowNs);
    assertEquals(Guesses.FREE - 1, guesses.triesLeft("a"));
    assertEquals(Duration.ZERO, guesses.wait("a", nowNs));
    assertEquals(Duration.ZERO, guesses.wait("another", nowNs));
  }

  @Test
  void guessesFromManyMoreAddressesAreNotForgotten() {
    Guesses guesses = new Guesses();
    for (int guess = 0; guess < 1_000; guess++) {
      guesses.wrong("address " + guess, nowNs);
    }
    assertEquals(Guesses.LONGEST_WAIT, guesses.wait("another", nowNs));
  }

  @Test
  void onlyAFewPinsWaitToBeCompared() {
    Queue<Runnable> waiting = new ArrayDeque<>();
    gate = gate(waiting::add);
    List<CompletableFuture<Gate.Entered>> coming = new ArrayList<>();
    for (int one = 0; one < Tries.OF_ONE; one++) {
      coming.add(entering("a", "x"));
    }
    assertEquals(429, enter("a", "x").status());
    while (coming.size() < Tries.OF_ALL) {
      coming.add(entering("address " + coming.size(), "x"));
    }
    assertEquals("too many PINs at once; wait a moment", enter("z", "x").words());

    runAll(waiting);
    coming.forEach(entered -> assertEquals(403, entered.join().status()));
    CompletableFuture<Gate.Entered> later = entering("z", made.told().get(Role.CREW));
    runAll(waiting);
    assertEquals(200, later.join().status());
  }

  /** Nobody gets more tries by asking before it is known that the last was wrong. */
  @Test
  void whoAsksAllAtOnceHasToWaitAsLong() {
    Queue<Runnable> waiting = new ArrayDeque<>();
    gate = gate(waiting::add);
    for (int wrong = 1; wrong < Guesses.FREE; wrong++) {
      CompletableFuture<Gate.Entered> entered = entering("a", "x");
      runAll(waiting);
      assertEquals(403, entered.join().status());
    }
    CompletableFuture<Gate.Entered> last = entering("a", "x");
    CompletableFuture<Gate.Entered> right = entering("a", made.told().get(Role.CREW));
    assertEquals(1, runAll(waiting));
    assertEquals("wrong PIN; wait a while", last.join().words());
    assertEquals("too many wrong PINs; wait 30 s", right.join().words());
  }

  /** How many there were. */
  private static int runAll(Queue<Runnable> waiting) {
    int count = 0;
    while (!waiting.isEmpty()) {
      waiting.remove().run();
      count++;
    }
    return count;
  }

  @Test
  void aSessionEndsWhenNobodyUsesIt() {
    Sessions sessions = new Sessions();
    Session session = sessions.begin(Role.CREW, "Ida", Optional.empty(), nowNs);
    long usedNs = nowNs + Sessions.IDLE.toNanos();
    assertTrue(sessions.use(session.key(), usedNs).isPresent());
    long endNs = usedNs + Sessions.IDLE.toNanos();
    assertTrue(sessions.find(session.key(), endNs).isPresent());
    assertFalse(sessions.find(session.key(), endNs + 1).isPresent());
    assertFalse(sessions.use(session.key(), endNs + 1).isPresent());
  }

  @Test
  void theSessionThatWasUsedLongestAgoEndsForAnother() {
    Sessions sessions = new Sessions();
    List<Session> begun = new ArrayList<>();
    for (int session = 0; session < Sessions.SESSIONS_MAX; session++) {
      begun.add(sessions.begin(Role.CREW, "Ida", Optional.empty(), nowNs));
    }
    sessions.use(begun.get(0).key(), nowNs);
    sessions.begin(Role.CREW, "Ida", Optional.empty(), nowNs);
    assertTrue(sessions.find(begun.get(0).key(), nowNs).isPresent());
    assertFalse(sessions.find(begun.get(1).key(), nowNs).isPresent());
    assertTrue(sessions.find(begun.get(2).key(), nowNs).isPresent());
  }

  @Test
  void whoEntersLeavesTheSessionOfTheirBrowser() {
    Session anna = session(take("Anna", "west", NO_KEY));
    Session bert = session(take("Bert", "west", anna.key()));
    assertTrue(isOver(anna));
    assertFalse(isOver(bert));
  }

  @Test
  void whoDoesNotGetInLosesNothing() {
    Session anna = session(take("Anna", "west", NO_KEY));
    session(take("Bert", "east", NO_KEY));
    assertEquals(409, take("Anna", "east", anna.key()).status());
    assertEquals(400, take("Anna", "north", anna.key()).status());
    assertEquals(403, gate.enter("a", anna.key(), form(Role.CREW, "x", "Anna")).join().status());
    assertFalse(isOver(anna));
  }

  /** A browser that was closed, a telephone that is at home: nobody else could give it back. */
  @Test
  void aDispatcherComesBackInTheirOwnPlace() {
    Session before = session(take("Anna", "west", NO_KEY));
    Session bert = session(take("Bert", "east", NO_KEY));
    assertEquals("Bert has east; it must be given back first", take("Anna", "", NO_KEY).words());
    assertFalse(isOver(before));
    Session now = session(take("Anna", "west", NO_KEY));
    assertTrue(isOver(before));
    assertFalse(isOver(bert));
    assertEquals(Optional.of("west"), gate.session(now.key()).territory());
    assertEquals(
        "Anna has west; it must be given back first", take("Carl", "west", NO_KEY).words());
  }

  @Test
  void aCrewMayHaveTwoPhones() {
    Session one = session(enter("a", made.told().get(Role.CREW)));
    Session other = session(enter("b", made.told().get(Role.CREW)));
    assertFalse(isOver(one));
    assertFalse(isOver(other));
  }

  @Test
  void namesThatWouldBreakSentencesAreRefused() {
    for (String name : List.of("", "x".repeat(41), "O'Hara", "a\nb")) {
      assertEquals(400, gate.enter("a", NO_KEY, form(Role.CREW, "x", name)).join().status());
    }
    assertEquals(400, gate.enter("a", NO_KEY, form(Role.VIEWER, "x", "Ida")).join().status());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "flag creamery by Ida",
        "unflag creamery by Ida",
        "return permit of Ida",
        "throw c1 reverse for Ida",
        "ask for 'release q1 to Ida' by Ida"
      })
  void aCrewSpeaksInItsOwnName(String sentence) {
    assertEquals(Optional.empty(), whyNot(Role.CREW, sentence));
    String others = sentence.replaceFirst("Ida$", "Max");
    assertEquals(Optional.of("that is for Max to say, and you are Ida"), whyNot(Role.CREW, others));
    assertEquals(Optional.empty(), whyNot(Role.DISPATCHER, others));
    assertEquals(Optional.empty(), whyNot(Role.OWNER, others));
  }

  @ParameterizedTest
  @ValueSource(strings = {"name Max on creamery", "secure q1", "run Max east", "withdraw ask 7"})
  void whatACrewSaysInNobodysNameIsForAnyCrew(String sentence) {
    assertEquals(Optional.empty(), whyNot(Role.CREW, sentence));
  }

  private Optional<String> whyNot(Role role, String sentence) {
    Session ida = new Session("key", "token", role, "Ida", Optional.empty());
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    return gate.whyNot(ida, command, () -> CompletableFuture.completedFuture(new Sight(Map.of())))
        .join();
  }
}
