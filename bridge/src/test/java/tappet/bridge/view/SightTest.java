package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What is seen, what has changed of it, and how that is written. */
class SightTest {

  private static Sight sight(Map<String, Facts> sections) {
    return new Sight(Map.of("section", sections));
  }

  @Test
  void changesAreWhatIsOtherwiseWhatHasComeAndWhatHasGone() {
    Sight before =
        sight(Map.of("a", Facts.is("clear"), "b", Facts.is("clear"), "c", Facts.is("clear")));
    Sight now =
        sight(Map.of("a", Facts.is("clear"), "b", Facts.is("occupied"), "d", Facts.is("clear")));
    assertEquals(
        Map.of(
            "section",
            Map.of(
                "b", Optional.of(Facts.is("occupied")),
                "c", Optional.empty(),
                "d", Optional.of(Facts.is("clear")))),
        now.since(before));
    assertTrue(now.since(now).isEmpty());
  }

  @Test
  void messagesAreWrittenAsTheInterfaceDescribesThem() {
    Facts facts = Facts.is("occupied").with("train", "Extra \"41\"").with("on", List.of("a"));
    assertEquals(
        "{\"run\":\"r\",\"seq\":3,\"at\":5,\"state\":{\"section\":{\"a\":"
            + "{\"is\":\"occupied\",\"train\":\"Extra \\\"41\\\"\",\"on\":[\"a\"]}}}}",
        SightJson.whole("r", 3, 5, sight(Map.of("a", facts))));
    assertEquals(
        "{\"run\":\"r\",\"seq\":4,\"at\":6,\"changed\":{\"section\":{\"a\":null}},"
            + "\"news\":[{\"at\":6,\"text\":\"gone\"}]}",
        SightJson.changes(
            "r",
            4,
            6,
            Map.of("section", Map.of("a", Optional.empty())),
            List.of(new News(6, "gone"))));
    assertEquals("{\"run\":\"r\",\"seq\":4,\"at\":7}", SightJson.alive("r", 4, 7));
  }
}
