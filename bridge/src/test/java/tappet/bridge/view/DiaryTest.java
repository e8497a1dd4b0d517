package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;

/** What the diary keeps, and for how long. */
class DiaryTest {

  private final Layout layout = Demo.layout();
  private final Diary diary = new Diary(layout);

  private static Sight sight(String section, String is, String district) {
    return new Sight(
        Map.of(
            "section", Map.of(section, Facts.is(is)),
            "train", Map.of("Extra 41", Facts.none().with("on", List.of(section))),
            "protection", Map.of("permit of X on a", Facts.none().with("on", List.of("a"))),
            "district", Map.of("east", Facts.is(district))));
  }

  @Test
  void whatLastsIsOneEntry() {
    diary.follow(sight("a", "occupied", "restored"), 10);
    diary.follow(sight("a", "occupied", "tripped"), 20);
    diary.follow(sight("a", "clear", "restored"), 30);
    assertEquals(
        "{\"at\":40,"
            + "\"trains\":[{\"what\":\"Extra 41\",\"on\":[\"a\"],\"from\":10}],"
            + "\"occupied\":[{\"what\":\"a\",\"on\":[\"a\"],\"from\":10,\"to\":30}],"
            + "\"protections\":[{\"what\":\"permit of X on a\",\"on\":[\"a\"],\"from\":10}],"
            + "\"outages\":[{\"what\":\"district east\",\"on\":["
            + quoted(layout.lineside().districts().get("east").sections())
            + "],\"from\":20,\"to\":30}]}",
        diary.json(0, 40));
  }

  @Test
  void boardThatIsSilentAndConnectionThatIsDownAreOutagesOfTheirSections() {
    var board = layout.boards().values().iterator().next();
    diary.follow(
        new Sight(
            Map.of(
                "board", Map.of(board.id(), Facts.is("silent")),
                "connection", Map.of("the simulator", Facts.is("down")))),
        10);
    assertEquals(
        "{\"at\":20,\"trains\":[],\"occupied\":[],\"protections\":[],\"outages\":["
            + "{\"what\":\"board %s\",\"on\":[%s],\"from\":10},"
                .formatted(board.id(), quoted(board.sections()))
            + "{\"what\":\"connection the simulator\",\"on\":[%s],\"from\":10}]}"
                .formatted(quoted(layout.sections().keySet())),
        diary.json(0, 20));
  }

  private static String quoted(Collection<String> sections) {
    return sections.stream().map(id -> '"' + id + '"').collect(Collectors.joining(","));
  }

  @Test
  void whatEndedLongAgoIsForgottenAndWhatStillLastsIsNot() {
    diary.follow(sight("a", "occupied", "restored"), 10);
    diary.follow(sight("a", "clear", "restored"), 20);
    diary.follow(sight("a", "clear", "restored"), 21 + Diary.KEPT_MS);
    assertEquals(
        "{\"at\":0,\"trains\":[{\"what\":\"Extra 41\",\"on\":[\"a\"],\"from\":10}],\"occupied\":[],"
            + "\"protections\":[{\"what\":\"permit of X on a\",\"on\":[\"a\"],\"from\":10}],\"outages\":[]}",
        diary.json(0, 0));
  }
}
