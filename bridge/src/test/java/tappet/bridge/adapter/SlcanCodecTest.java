package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.Access;

/** What an SLCAN adapter tells of itself, over the time that it does; all from memory. */
class SlcanCodecTest {

  private static final String BUS_ERROR =
      "bus error: is the bus powered, ended by two terminators, and is somebody else on it?";

  private final Told told = new Told();
  private final SlcanCodec codec = new SlcanCodec(Access.FULL, new TrafficCount(), told);

  @Test
  void silenceStandsUntilSomethingIsHeard() {
    passTime(0);
    passTime(2);
    assertEquals(
        List.of("answers nothing: is it an SLCAN adapter, and is its speed right?"), told.news);

    hear("\r", 3);
    passTime(60);
    assertEquals("over: answers nothing", told.news.get(1));
    assertEquals(2, told.news.size());
  }

  /** The flags are gone once they are told, so that one calm answer means little. */
  @Test
  void reportIsOverWhenTheStatusHasBeenCalmForTenSeconds() {
    hear("F80\r", 100);
    hear("F00\r", 101);
    hear("F80\r", 102);
    hear("F00\r", 103);
    hear("F00\r", 111);
    assertEquals(List.of("reports: " + BUS_ERROR), told.news);

    hear("F00\r", 112);
    hear("F00\r", 113);
    assertEquals(List.of("reports: " + BUS_ERROR, "over: reports: "), told.news);

    hear("F80\r", 114);
    assertEquals("reports: " + BUS_ERROR, told.news.get(2));
  }

  @Test
  void reportTakesThePlaceOfTheOneBefore() {
    hear("F80\r", 100);
    hear("FA0\r", 101);
    hear("FA0\r", 161);
    assertEquals(
        List.of(
            "reports: " + BUS_ERROR,
            "over: reports: ",
            "reports: it hardly takes part any more (error passive); " + BUS_ERROR,
            "reports: it hardly takes part any more (error passive); " + BUS_ERROR),
        told.news);
  }

  private void passTime(long seconds) {
    codec.passTime(TimeUnit.SECONDS.toNanos(seconds));
  }

  private void hear(String text, long seconds) {
    byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
    assertEquals(List.of(), codec.feed(bytes, 0, bytes.length, TimeUnit.SECONDS.toNanos(seconds)));
  }

  private static final class Told implements LineTrouble {
    private final List<String> news = new ArrayList<>();

    @Override
    public void arises(String what) {
      news.add(what);
    }

    @Override
    public void over(String beginning) {
      news.add("over: " + beginning);
    }
  }
}
