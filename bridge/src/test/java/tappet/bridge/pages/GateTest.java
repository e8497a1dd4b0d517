package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.view.Demo;

/** PINs, guesses and sessions, on a clock of the test's own. */
class GateTest {

  @TempDir Path folder;

  private long nowNs = 1;

  private Gate gate(Pins pins) {
    Territories none = new Territories(Demo.layout(), Demo.table(), Map.of());
    return new Gate(pins, none, Runnable::run, Runnable::run, () -> nowNs);
  }

  private Gate.Entered enter(Gate gate, String from, String pin) {
    return gate.enter(
            from, Map.of("role", List.of("crew"), "pin", List.of(pin), "name", List.of("Ida")))
        .join();
  }

  @Test
  void pinsAreToldOnceAndKeptAsHashesForTheOwnerAlone() throws IOException {
    Path file = folder.resolve("pins");
    Pins.Opened made = Pins.open(file);
    assertEquals(
        List.of(Role.CREW, Role.DISPATCHER, Role.OWNER), List.copyOf(made.told().keySet()));
    String kept = Files.readString(file);
    made.told().values().forEach(pin -> assertFalse(kept.contains(pin)));
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));

    Pins.Opened again = Pins.open(file);
    assertEquals(Map.of(), again.told());
    assertTrue(again.pins().fits(Role.CREW, made.told().get(Role.CREW)));
    assertFalse(again.pins().fits(Role.OWNER, made.told().get(Role.CREW)));
    assertFalse(again.pins().fits(Role.CREW, ""));
  }

  @Test
  void damagedPinsSayWhatToDo() throws IOException {
    Path file = Files.writeString(folder.resolve("pins"), "nonsense\n");
    IOException damaged = assertThrows(IOException.class, () -> Pins.open(file));
    assertTrue(damaged.getMessage().endsWith("delete it, and the next start makes new ones"));
  }

  @Test
  void whoGuessesHasToWaitLongerEachTime() throws IOException {
    Pins.Opened opened = Pins.open(folder.resolve("pins"));
    Gate gate = gate(opened.pins());
    for (int left = Guesses.FREE - 1; left > 0; left--) {
      assertEquals("wrong PIN; " + left + " tries left", enter(gate, "a", "x").words());
    }
    assertEquals("wrong PIN; wait a while", enter(gate, "a", "x").words());
    Gate.Entered tooSoon = enter(gate, "a", opened.told().get(Role.CREW));
    assertEquals(429, tooSoon.status());
    assertEquals("too many wrong PINs; wait 30 s", tooSoon.words());
    assertTrue(enter(gate, "b", opened.told().get(Role.CREW)).session().isPresent());
    nowNs += Guesses.FIRST_WAIT.toNanos();
    assertEquals(403, enter(gate, "a", "x").status());
    assertEquals("too many wrong PINs; wait 60 s", enter(gate, "a", "x").words());
    nowNs += Duration.ofSeconds(60).toNanos();
    assertTrue(enter(gate, "a", opened.told().get(Role.CREW)).session().isPresent());
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

  @Test
  void aSessionEndsWhenNobodyUsesIt() {
    Sessions sessions = new Sessions();
    Session session = sessions.begin(Role.CREW, "Ida", Optional.empty(), nowNs);
    long usedNs = nowNs + Sessions.IDLE.toNanos();
    assertTrue(sessions.find(session.key(), usedNs).isPresent());
    assertTrue(sessions.find(session.key(), usedNs + Sessions.IDLE.toNanos()).isPresent());
    assertFalse(sessions.find(session.key(), usedNs + 2 * Sessions.IDLE.toNanos() + 1).isPresent());
  }

  @Test
  void namesThatWouldBreakSentencesAreRefused() throws IOException {
    Gate gate = gate(Pins.open(folder.resolve("pins")).pins());
    for (String name : List.of("", "x".repeat(41), "O'Hara", "a\nb")) {
      assertEquals(
          400,
          gate.enter("a", Map.of("role", List.of("crew"), "name", List.of(name))).join().status());
    }
    assertEquals(
        400,
        gate.enter("a", Map.of("role", List.of("viewer"), "name", List.of("Ida"))).join().status());
  }
}
