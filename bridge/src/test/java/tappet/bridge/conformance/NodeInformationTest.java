package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the node is called, and who made it (S-9.7.4.3). */
class NodeInformationTest extends Bench {

  private static final String REQUEST = "19DE8ttt 0ddd";

  @Test
  @Checks({84})
  void tellsItsNamesAsItsSpacesDo() {
    // S-9.7.4.3 §5.1, S-9.7.4.1 §5.1.2
    tool().name("Yard", "Throat signals");
    assertEquals(
        "04"
            + Tool.text(tool().readText("FC", 1, 41))
            + Tool.text(tool().readText("FC", 42, 41))
            + Tool.text(tool().readText("FC", 83, 21))
            + Tool.text(tool().readText("FC", 104, 21))
            + "02"
            + Tool.text("Yard")
            + Tool.text("Throat signals"),
        tool().askNames());
  }

  @Test
  @Checks({84})
  void longestNamesAreCutWithinTheirLimits() {
    // S-9.7.4.3 §5.1: 63 and 64 bytes with the closing zero, which a tool may have left out
    tool().write("FB", 1, "61".repeat(63));
    tester.hearItOut();
    tool().write("FB", 64, "62".repeat(64));
    tester.hearItOut();
    String names = tool().askNames();
    assertTrue(names.endsWith("02" + "61".repeat(62) + "00" + "62".repeat(63) + "00"), names);
    tool().name("", "");
    assertTrue(tool().askNames().endsWith("020000"));
  }

  @ParameterizedTest
  @CsvSource({
    "19DE8ttt 0ddd, 19A08ddd 1ttt *, 19A08ddd 3ttt ............, 19A08ddd 2ttt *",
    "1Adddttt 20410000000040, 1Btttddd *, 1Ctttddd ................, 1Dtttddd *"
  })
  @Checks({34})
  void sendsLongMessagesWholeWhateverElseItHasToSay(
      String request, String first, String middle, String last) {
    // S-9.7.3 §7.3.1.3, §7.3.7; for a datagram S-9.7.3.2 §7.3.1
    tester.send("19970ttt", request, "19490ttt");
    assertUnbroken(tester.hearUntil(last), first, middle);
    tool().acknowledge();
    tester.hearItOut();
  }

  /** Behind the first nothing but middle frames, or what goes before them on the bus. */
  private static void assertUnbroken(List<Heard> heard, String first, String middle) {
    int begin = indexOf(heard, first);
    Heard last = heard.get(heard.size() - 1);
    assertTrue(begin >= 0 && begin < heard.size() - 2, () -> first + " in " + heard);
    assertEquals(16, heard.get(begin).data().length());
    for (Heard between : heard.subList(begin + 1, heard.size() - 1)) {
      assertTrue(
          tester.matches(between, middle) || between.header().compareTo(last.header()) < 0,
          () -> between + " stands within " + heard);
    }
  }

  private static int indexOf(List<Heard> heard, String frame) {
    return IntStream.range(0, heard.size())
        .filter(index -> tester.matches(heard.get(index), frame))
        .findFirst()
        .orElse(-1);
  }

  @Test
  @Checks({85})
  void answersWhoAsksAgainMeanwhile() {
    // TN-9.7.4.3 §2.6
    tester.send(REQUEST, REQUEST, "19DE8uuu 0ddd");
    String names = tool().hearNames();
    assertEquals(names, tool().hearNames());
    assertEquals(names, new Tool(tester, "uuu").hearNames());
    tester.sendInVain();
  }

  @Test
  @Checks({87})
  void newNameIsAnnouncedAndKeptOverARestart() throws IOException {
    // S-9.7.4.3 §6.3, S-9.7.3.1 §6
    tool().name("Before", "Before");
    tool().write("FB", 1, Tool.text("Gleisfeld süd"));
    tester.expect("19100ddd" + Dut.NODE);
    assertAllEventsAreTold();
    tester.hearItOut();
    tool().name("Gleisfeld süd", "Throat signals");
    String called = Tool.text("Gleisfeld süd") + Tool.text("Throat signals");
    assertTrue(tool().askNames().endsWith("02" + called));
    restart();
    assertTrue(tool().askNames().endsWith("02" + called));
    assertEquals("Gleisfeld süd", tool().readText("FB", 1, 63));
    assertEquals("Throat signals", tool().readText("FB", 64, 64));
  }

  private static void assertAllEventsAreTold() {
    Set<String> untold = new LinkedHashSet<>(BirchHollow.PRODUCED);
    untold.addAll(BirchHollow.CONSUMED);
    while (!untold.isEmpty()) {
      Heard heard = tester.hear();
      assertTrue(tester.matches(heard, "19(4C|54)[457]ddd *"), heard::toString);
      untold.remove(heard.data());
    }
  }
}
