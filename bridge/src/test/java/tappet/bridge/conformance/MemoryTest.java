package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Memory configuration (S-9.7.4.2). */
class MemoryTest extends Bench {

  private static final String USER = "FB";
  private static final int NAME = 1;
  private static final int DESCRIPTION = 64;

  @Test
  @Checks({66, 67})
  void configurationIsReadInBothForms() {
    // S-9.7.4.2 §4.2, §4.4, §4.5; no time is given, so that the reply is due within 750 ms
    String shorter = tool().ask("2041 00000000 10");
    String longer = tool().ask("2040 00000000 FD 10");
    assertEquals("205100000000" + Tool.text("Approach").substring(0, 16), shorter.substring(0, 28));
    assertEquals("205000000000FD" + shorter.substring(12), longer);
    assertEquals(12 + 2 * 16, shorter.length());
  }

  @ParameterizedTest
  @ValueSource(strings = {"FB", "FC", "FD", "FF"})
  @Checks({68})
  void readingOverTheEndGivesWhatThereIs(String space) {
    // S-9.7.4.2 §4.5, §4.3
    int highest = highest(space);
    assertEquals(2 * 3, tool().read(space, highest - 2, 64).length());
    String outside = "%08X%s".formatted(highest + 1, space);
    assertEquals("2058" + outside + "1082", tool().ask("2040" + outside + "01"));
    assertEquals("2058FFFFFFFF" + space + "1082", tool().ask("2040FFFFFFFF" + space + "40"));
  }

  private static int highest(String space) {
    return Integer.parseUnsignedInt(tool().ask("2084" + space).substring(6, 14), 16);
  }

  @Test
  @Checks({69})
  void topBitOfACountMeansNothing() {
    // S-9.7.4.2 §4.4
    assertEquals(tool().ask("2041 00000000 10"), tool().ask("2041 00000000 90"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"00", "41", "7F"})
  void countOutOfRangeIsRefused(String count) {
    // S-9.7.4.2 §4.4: 1 to 64; the code is a choice within S-9.7.3 §3.5.5
    tool().send("2041 00000000" + count);
    tool().expectRefused("1080");
    tester.sendInVain();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "2040 00000000 10 01",
        "2042 00000000 01",
        "2000 00000000 10 5A",
        "2002 00000000 5A"
      })
  @Checks({70})
  void spaceThatIsNotThereIsRefused(String command) {
    // S-9.7.4.2 §4.3, TN-9.7.4.2 §2.4.4
    tool().send(command);
    tool().expectRefused("1081");
    tester.sendInVain();
  }

  @Test
  @Checks({71})
  void whatIsWrittenIsThereAtOnce() {
    // S-9.7.4.2 §4.8, §4.9: no reply is pending, so none comes; the next command reads it
    tool().name("Before", "Before");
    tool().write(USER, DESCRIPTION, Tool.text("West end"));
    tool().send("2040 00000040 FB 09");
    tester.hearUntil("19A28ddd 0ttt 80");
    assertEquals("205000000040FB" + Tool.text("West end"), tool().hearDatagram());
    tool().acknowledge();
    tester.hearItOut();
    tool().send("2000 00000081 FB 41");
    tool().expectReplyPending();
    assertEquals("201800000081FB1082", tool().hearDatagram());
    tool().acknowledge();
    tester.sendInVain();
  }

  @ParameterizedTest
  @CsvSource({"03, 43, FF, 1B", "01, 41, FD, 19"})
  @Checks({72, 76})
  void readOnlySpaceIsNotWritten(String write, String read, String space, String failed) {
    // S-9.7.4.2 §4.3, §4.16: flag 1 is set
    String before = tool().ask("20" + read + "0000000040");
    assertEquals("20" + failed + "000000001083", tool().ask("20" + write + "000000005A"));
    assertEquals("201800000000" + space + "1083", tool().ask("200000000000" + space + "5A5B"));
    assertEquals("201800000000" + space + "1083", tool().ask("200800000000" + space + "FF5B"));
    assertEquals(before, tool().ask("20" + read + "0000000040"));
    assertEquals(1, flags(space) & 1);
  }

  private static int flags(String space) {
    return Integer.parseInt(tool().ask("2084" + space).substring(14, 16), 16);
  }

  @Test
  @Checks({73})
  void writingUnderAMaskChangesOnlyThoseBits() {
    // S-9.7.4.2 §4.10: the mask comes first; 0x59 to 0x79, 0x61 to 0x41, 0x72 stays
    tool().name("Yard", "");
    tool().send("2008 00000001 FB 2020 2000 0000");
    tool().expectTaken();
    tester.hearItOut();
    assertEquals("yArd", tool().readText(USER, NAME, 63));
  }

  @ParameterizedTest
  @CsvSource({
    "20C0, 1041",
    "20FF, 1041",
    "2060000000 00FD FF01 00000010, 1041",
    "2020000000 00FD 01, 1041",
    "2044 00000000 FD 10, 1041",
    "2004 00000000 FB 41, 1041",
    "20A1EF, 1041",
    "20A0EF, 1041",
    "20, 10..",
    "2040 0000, 10..",
    "2084, 10..",
    "2088 0102, 10..",
    "208C, 10..",
    "208C08, 10..",
    "20AA, 10.."
  })
  @Checks({74})
  void commandThatIsNotKnownOrMakesNoSenseIsRefused(String command, String errorCode) {
    // S-9.7.4.2 §4.3, TN-9.7.4.2 §2.4.3: streams and freezing are not spoken, bit 2 is checked
    tool().send(command);
    tool().expectRefused(errorCode);
    tester.sendInVain();
  }

  @Test
  @Checks({75})
  void tellsItsOptions() {
    // S-9.7.4.2 §4.14: masks, any alignment, FC read, FB read and write; spaces FB to FF
    assertEquals("2082EE00E2FFFB", tool().ask("2080"));
  }

  @ParameterizedTest
  @CsvSource({"FB, 0000007F, 0, User", "FC, 0000007C, 1, Maker"})
  @Checks({76, 88})
  void tellsOfTheSpacesOfItsNames(String space, String highest, int readOnly, String called) {
    // S-9.7.4.2 §4.16, S-9.7.4.1 §5.1.2: 128 and 125 bytes; a lowest address goes before a name
    String reply = tool().ask("2084" + space);
    assertEquals("2087" + space + highest, reply.substring(0, 14));
    assertEquals(readOnly, flags(space) & 1);
    assertEquals("00000000" + Tool.text(called), reply.substring(16));
  }

  @ParameterizedTest
  @ValueSource(strings = {"10", "FE", "EF", "00"})
  @Checks({76})
  void tellsOfNoSpaceThatIsNotThere(String space) {
    // S-9.7.4.2 §4.16
    assertEquals("2086" + space, tool().ask("2084" + space));
  }

  @Test
  @Checks({77})
  void lockIsHeldByWhoComesFirstAndBindsNobodyElse() {
    // S-9.7.4.2 §4.17
    String a = "02010DABCDEF";
    String b = "02010DABCDF0";
    assertEquals("208A" + a, tool().ask("2088" + a));
    assertEquals("208A" + a, new Tool(tester, "uuu").ask("2088" + b));
    new Tool(tester, "uuu").write(USER, DESCRIPTION, Tool.text("Written by another"));
    tester.hearItOut();
    assertEquals("Written by another", tool().readText(USER, DESCRIPTION, 64));
    assertEquals("208A000000000000", tool().ask("2088000000000000"));
    assertEquals("208A" + b, tool().ask("2088" + b));
    resetNode();
    assertEquals("208A" + a, tool().ask("2088" + a));
    assertEquals("208A000000000000", tool().ask("2088000000000000"));
  }

  /** Reset, and hears the node start (S-9.7.4.2 §4.24). */
  private static void resetNode() {
    tool().send("20A9");
    tester.hearUntil("19100... " + Dut.NODE);
    tester.hearItOut();
  }

  @Test
  @Checks({53, 78})
  void neverGivesAnEventIdTwice() throws IOException {
    // S-9.7.4.2 §4.19, S-9.7.3.1 §6.6: across both kinds of reset, and a new start of the process
    Set<String> given = new LinkedHashSet<>();
    given.addAll(uniqueEvents(7));
    given.addAll(uniqueEvents(1));
    resetNode();
    given.addAll(uniqueEvents(2));
    tool().send("20AA" + Dut.NODE);
    tester.hearUntil("19100... " + Dut.NODE);
    tester.hearItOut();
    given.addAll(uniqueEvents(2));
    restart();
    given.addAll(uniqueEvents(2));
    assertEquals(7 + 1 + 2 + 2 + 2, given.size(), given::toString);
    assertTrue(given.stream().allMatch(event -> event.startsWith(Dut.NODE)), given::toString);
    assertEquals("208D", tool().ask("208C00"));
  }

  private static List<String> uniqueEvents(int count) {
    String reply = tool().ask("208C0" + count);
    assertEquals("208D", reply.substring(0, 4));
    assertEquals(4 + 16 * count, reply.length());
    return List.of(reply.substring(4).split("(?<=\\G.{16})"));
  }

  @Test
  @Checks({79})
  void updateCompleteIsTaken() {
    // S-9.7.4.2 §4.23
    tool().send("20A8");
    tool().expectTaken();
    tester.sendInVain();
  }

  @Test
  @Checks({80})
  void resetStartsTheNodeAfreshAndKeepsItsNames() {
    // S-9.7.4.2 §4.24, TN-9.7.4.2 §2.4.24; the alias is asked for anew (S-9.7.2.1 §6.2.1)
    tool().name("Yard", "West end");
    String alias = tester.dutAlias();
    tool().send("20A9");
    List<Heard> start = tester.hearUntil("19100... " + Dut.NODE);
    assertEquals(
        List.of("19A28", "10703", "170A5", "16700", "15000", "14001", "10700", "10701", "19100"),
        start.stream().map(heard -> heard.header().substring(0, 5)).toList());
    assertNotEquals(alias, tester.dutAlias());
    tester.hearItOut();
    assertEquals("Yard", tool().readText(USER, NAME, 63));
    assertEquals("West end", tool().readText(USER, DESCRIPTION, 64));
  }

  @Test
  @Checks({81})
  void factoryResetForgetsTheNamesIfMeantForThisNode() {
    // S-9.7.4.2 §4.25
    tool().name("Yard", "West end");
    tool().send("20AA" + Tester.NODE);
    tool().expectRefused("10..");
    tester.sendInVain();
    assertEquals("Yard", tool().readText(USER, NAME, 63));
    tool().send("20AA" + Dut.NODE);
    tester.hearUntil("19100... " + Dut.NODE);
    tester.hearItOut();
    assertEquals("02" + "00".repeat(63), tool().read(USER, 0, 64));
    assertEquals("00".repeat(64), tool().read(USER, 64, 64));
  }
}
