package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.bridge.view.Mentions.Mention;

/** Which devices a text speaks of. */
class MentionsTest {

  @Test
  void devicesAreFoundByTheirKindAndIdOnceAndInOrder() {
    assertEquals(
        List.of(
            new Mention("signal", "t2e"),
            new Mention("section", "mid-west"),
            new Mention("section", "mill-road"),
            new Mention("switch", "t1"),
            new Mention("crossing", "mill-road-bells")),
        new Mentions(Demo.layout())
            .in(
                "signal t2e (Tilling 2E) shows stop: unknown: sections mid-west, mill-road; switch t1"
                    + " is locked, grade crossing mill-road-bells warns, signal t2e, section nowhere,"
                    + " tilling-main"));
  }
}
