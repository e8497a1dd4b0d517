package tappet.bridge.field;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Output;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Light;
import tappet.layout.Looks;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.lcc.EventId;
import tappet.source.Problems;

/** What is told to the lamps of a signal, event by event. */
class LampOrderTest {

  private static final String LAYOUT =
      """
      layout: 1
      name: One signal
      joints: {j0: [0, 0], j1: [2, 0], j2: [4, 0]}
      sections:
        s0: {between: [j0, j1], length: 1 m, occupied: 0A.00.00.00.00.02.10.01, clear: 0A.00.00.00.00.02.10.00}
        s1: {between: [j1, j2], length: 1 m, occupied: 0A.00.00.00.00.02.11.01, clear: 0A.00.00.00.00.02.11.00}
      signals:
        a: {at: j1, into: s1, looks: three-head, lamps: [%s, %s, %s]}
      %s
      """;

  private final Layout layout = layout();
  private final Signal signal = layout.signals().get("a");
  private final Looks looks = signal.lights().orElseThrow().looks();

  // 49 CFR 236.23: from every aspect to every other, no moment is read as better than both.
  @Test
  void noMomentBetweenTwoAspectsIsBetterThanBoth() {
    for (String before : looks.aspects().keySet()) {
      for (String after : looks.aspects().keySet()) {
        Field field = new Field(layout);
        Map<SignalLamp, EventId> lamps = new HashMap<>();
        field.tell(new Output.Show("a", before), 0).forEach(event -> act(event, lamps));
        assertEquals(before, read(lamps));
        for (EventId event : field.tell(new Output.Show("a", after), 0)) {
          act(event, lamps);
          String seen = read(lamps);
          String told = before + " to " + after + ": " + seen;
          assertFalse(looks.isBetter(seen, before) && looks.isBetter(seen, after), told);
        }
        assertEquals(after, read(lamps));
      }
    }
  }

  // After a break every lamp is told again, and again no moment is better than what is meant.
  @Test
  void everyLampIsToldAgainOutBeforeLit() {
    for (String aspect : looks.aspects().keySet()) {
      Field field = new Field(layout);
      field.tell(new Output.Show("a", aspect), 0);
      Map<SignalLamp, EventId> lamps = new HashMap<>();
      for (EventId event : field.signalsAgain()) {
        act(event, lamps);
        assertFalse(looks.isBetter(read(lamps), aspect));
      }
      assertEquals(aspect, read(lamps));
    }
  }

  private void act(EventId event, Map<SignalLamp, EventId> lamps) {
    for (SignalLamp lamp : signal.lights().orElseThrow().lamps()) {
      boolean flashes = lamp.flashing().filter(event::equals).isPresent();
      if (flashes || event.equals(lamp.lit()) || event.equals(lamp.dark())) {
        lamps.put(lamp, event);
      }
    }
  }

  private String read(Map<SignalLamp, EventId> lamps) {
    List<Light> seen = new ArrayList<>();
    for (int head = 0; head < looks.heads(); head++) {
      int at = head;
      seen.add(
          lamps.keySet().stream()
              .filter(lamp -> lamp.head() == at && !lamps.get(lamp).equals(lamp.dark()))
              .map(lamp -> light(lamp, lamps.get(lamp)))
              .findFirst()
              .orElse(Light.DARK));
    }
    return looks.read(seen);
  }

  private static Light light(SignalLamp lamp, EventId event) {
    return event.equals(lamp.lit()) ? Light.steady(lamp.colour()) : Light.flashing(lamp.colour());
  }

  private static Layout layout() {
    Problems problems = new Problems();
    String text = LAYOUT.formatted(head(1), head(2), head(3), table());
    var layout = LayoutReader.read("layout.yaml", text, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }

  private static String head(int head) {
    return List.of("red", "yellow", "green").stream()
        .map(
            colour ->
                "%1$s: {lit: %2$s.01, dark: %2$s.00, flashing: %2$s.02}"
                    .formatted(colour, "0A.00.00.00.00.01." + head + colour.length()))
        .collect(Collectors.joining(", ", "{", "}"));
  }

  private static String table() {
    try {
      String file = Files.readString(Path.of("..", "config", "aspects", "speed-signalling.yaml"));
      return file.substring(file.indexOf("restriction:"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
