package tappet.bridge.view;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** What the diary keeps, and for how long. */
class DiaryTest {

  private final Diary diary = new Diary(Map.of("east", List.of("b", "c")));

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
            + "\"outages\":[{\"what\":\"district east\",\"on\":[\"b\",\"c\"],\"from\":20,\"to\":30}]}",
        diary.json(0, 40));
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
