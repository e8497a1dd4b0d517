package tappet.bridge.field;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import tappet.layout.Colour;
import tappet.layout.SignalLamp;
import tappet.lcc.EventId;

/** Flashing without flooding the bus. */
class FlasherTest {

  private static final long SECOND = 1_000_000_000L;

  private final Flasher flasher = new Flasher();

  @Test
  void lampGoesOutAndComesOnAgainFortyTimesAMinute() {
    flasher.turn(lamp(1), true, 0);
    List<EventId> sent = run(60 * SECOND);
    assertEquals(80, sent.size());
    assertEquals(lamp(1).dark(), sent.get(0));
    assertEquals(lamp(1).lit(), sent.get(1));
    flasher.turn(lamp(1), false, 60 * SECOND);
    assertEquals(OptionalLong.empty(), flasher.nextNs());
  }

  // An event every 25 ms at the most, whatever the number of lamps; every lamp gets its turn.
  @Test
  void manyLampsFlashSlowerAndNeverFloodTheBus() {
    for (int number = 0; number < 200; number++) {
      flasher.turn(lamp(number), true, 0);
    }
    List<EventId> sent = run(10 * SECOND);
    assertTrue(sent.size() <= 10 * 40, sent::toString);
    for (int number = 0; number < 200; number++) {
      assertTrue(sent.contains(lamp(number).dark()), "lamp " + number);
    }
  }

  /**
   * Of another layout, which has one of two lamps no more: the other one flashes as it would have.
   */
  @Test
  void lampFlashesOnInAnotherLayout() {
    flasher.turn(lamp(1), true, 0);
    flasher.turn(lamp(2), true, 0);
    Flasher other = flasher.keeping(lamp(2)::equals);
    assertTrue(other.flashes(lamp(2)) && !other.flashes(lamp(1)));
    assertEquals(List.of(lamp(2).dark()), other.due(Flasher.HALF_NS));
    assertTrue(flasher.flashes(lamp(1)), "this one is left as it was");
  }

  private List<EventId> run(long toNs) {
    List<EventId> sent = new ArrayList<>();
    long lastNs = -Flasher.APART_NS;
    for (OptionalLong due = flasher.nextNs();
        due.isPresent() && due.getAsLong() <= toNs;
        due = flasher.nextNs()) {
      List<EventId> events = flasher.due(due.getAsLong());
      assertEquals(1, events.size());
      assertTrue(due.getAsLong() - lastNs >= Flasher.APART_NS);
      lastNs = due.getAsLong();
      sent.addAll(events);
    }
    return sent;
  }

  private static SignalLamp lamp(int number) {
    return new SignalLamp(
        0,
        Colour.YELLOW,
        "lamp-" + number,
        new EventId(2L * number + 1),
        new EventId(2L * number),
        Optional.empty(),
        Optional.empty());
  }
}
