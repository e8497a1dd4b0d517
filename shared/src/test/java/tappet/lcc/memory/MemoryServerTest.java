package tappet.lcc.memory;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.lcc.Bytes;
import tappet.lcc.Dialogue;
import tappet.lcc.EventId;
import tappet.lcc.Identity;
import tappet.lcc.NodeId;
import tappet.lcc.Seed;
import tappet.lcc.Vectors;

/**
 * The node under test is 02.01.0D.12.34.56 with alias 458; the tools are 67E and 123. Its
 * configuration has 128 bytes that count up, its space 10 begins at 1000 and has 16 bytes of 00.
 */
class MemoryServerTest {

  private static final JsonNode VECTORS = Vectors.read("memory-configuration.json");
  private static final JsonNode IDENTITY_VECTORS = Vectors.read("acdi-spaces.json");
  private static final NodeId NODE = NodeId.of("02.01.0D.12.34.56");
  private static final Identity YARD =
      new Identity(
          "Example Railway Works",
          "Interlocking daemon",
          "none",
          "1.0.0",
          "Yard",
          "Throat signals");

  private static final String TAKEN = "00";
  private static final String REPLY_FOLLOWS = "80";

  private final List<String> done = new ArrayList<>();
  private final IdentitySpaces identity = new IdentitySpaces(YARD, this::identityChanged);
  private final MemorySpace configuration =
      MemorySpace.writable(
          AddressSpace.CONFIGURATION,
          "",
          countingUp(128),
          (address, content) -> done.add("written %d %s".formatted(address, content)));
  private final MemoryServer server =
      new MemoryServer(
          NODE,
          List.of(
              MemorySpace.text(AddressSpace.DESCRIPTION, "", "<cdi/>\n"),
              configuration,
              identity.maker(),
              identity.user(),
              new High()),
          new Owner());
  private final Dialogue dialogue =
      new Dialogue(NODE.toString(), List.of(), List.of())
          .identifyAs(YARD)
          .serve(server)
          .upAndReady();

  private static Bytes countingUp(int length) {
    byte[] content = new byte[length];
    for (int index = 0; index < length; index++) {
      content[index] = (byte) index;
    }
    return Bytes.copyOf(content);
  }

  private void identityChanged(Identity changed) {
    done.add("user is " + changed.userName() + ", " + changed.userDescription());
    dialogue.identifyAs(changed);
    dialogue.node.announceAgain(dialogue.nowNs());
  }

  /** A space that does not begin at zero and can fail. */
  private static final class High implements AddressSpace {

    @Override
    public int number() {
      return 0x10;
    }

    @Override
    public long lowest() {
      return 0x1000;
    }

    @Override
    public long highest() {
      return 0x100F;
    }

    @Override
    public boolean writable() {
      return true;
    }

    @Override
    public String description() {
      return "RAM";
    }

    @Override
    public Optional<Bytes> read(long address, int count) {
      return address == 0x100F ? Optional.empty() : Optional.of(Bytes.ofNumber(0, 1));
    }

    @Override
    public Optional<Integer> write(long address, Bytes content) {
      return address == 0x100F ? Optional.of(0x2080) : Optional.empty();
    }
  }

  private final class Owner implements MemoryOwner {

    private static final long USED_UP = 0x02010D1234560108L;

    private long next = 0x02010D1234560100L;

    @Override
    public void updateComplete(long nowNs) {
      done.add("update complete");
    }

    @Override
    public void reboot(long nowNs) {
      done.add("reboot");
      dialogue.node.start(nowNs);
    }

    @Override
    public void factoryReset(long nowNs) {
      done.add("factory reset");
    }

    @Override
    public Optional<EventId> nextUniqueEvent() {
      return next < USED_UP ? Optional.of(new EventId(next++)) : Optional.empty();
    }
  }

  /** A tool sends a datagram; the node answers it with these flags. */
  private MemoryServerTest ask(String hex, String flags) {
    tell(0x67E, Bytes.ofHex(hex));
    dialogue.expect(":X19A28458N067E" + flags + ";");
    return this;
  }

  private void tell(int alias, Bytes content) {
    int from = 0;
    do {
      int length = Math.min(8, content.length() - from);
      boolean first = from == 0;
      boolean last = from + length == content.length();
      char part = first ? (last ? 'A' : 'B') : (last ? 'D' : 'C');
      dialogue.send(":X1%c458%03XN%s;".formatted(part, alias, content.slice(from, length)));
      from += length;
    } while (from < content.length());
  }

  private MemoryServerTest askRejected(String hex, String errorCode) {
    tell(0x67E, Bytes.ofHex(hex));
    dialogue.expect(":X19A48458N067E" + errorCode + ";").expectSilence();
    return this;
  }

  /** The node's reply, which the tool acknowledges. */
  private MemoryServerTest reply(String hex) {
    StringBuilder content = new StringBuilder();
    List<String> frames = dialogue.takeSaid();
    for (String frame : frames) {
      assertTrue(frame.matches(":X1[ABCD]67E458N.*;"), frame);
      content.append(frame, 11, frame.length() - 1);
    }
    assertEquals(hex, content.toString());
    dialogue.send(":X19A2867EN0458;").expectSilence();
    return this;
  }

  private static String payload(String id) {
    return Vectors.row(VECTORS, id).get("payload").asText();
  }

  // S-9.7.4.2 §4.2, §4.4, §4.5: both forms of address; the reply has the form of the request
  @Test
  void configurationIsReadInBothForms() {
    ask(payload("read-fd"), REPLY_FOLLOWS).reply(payload("read-reply-ok"));
    ask(payload("read-fd-byte6"), REPLY_FOLLOWS)
        .reply("205000000000FD000102030405060708090A0B0C0D0E0F");
    ask(payload("read-count-top-bit"), REPLY_FOLLOWS).reply(payload("read-reply-ok"));
    ask("20410000004040", REPLY_FOLLOWS).reply("205100000040" + countingUp(128).from(64));
  }

  // S-9.7.4.2 §4.5: over the end, what exists; beyond it, a failed reply
  @Test
  void readingOverTheEndGivesWhatIsThere() {
    ask("20410000007E10", REPLY_FOLLOWS).reply("20510000007E7E7F");
    ask("20410000008001", REPLY_FOLLOWS).reply("2059000000801082");
    ask("20410001000010", REPLY_FOLLOWS).reply(payload("read-reply-fail-bounds"));
    ask("2041FFFFFFFF40", REPLY_FOLLOWS).reply("2059FFFFFFFF1082");
    ask("204000000FFF1001", REPLY_FOLLOWS).reply("205800000FFF101082");
    ask("20400000100F1001", REPLY_FOLLOWS).reply("20580000100F102020");
  }

  // S-9.7.4.2 §4.3, TN-9.7.4.2 §2.4.3, §2.4.4; lcc.md §10.4
  @ParameterizedTest
  @CsvSource({
    "20C0, 1041",
    "20FF, 1041",
    "20810000, 1041",
    "20A0EF, 1041",
    "20A1EF, 1041",
    "204400000000FD10, 1041",
    "20450000000010, 1041",
    "20050000000010, 1041",
    "206100000000FF0100000010, 1041",
    "202100000000FF01, 1041",
    "20500000000001, 1041",
    "205000000000FD01, 1041",
    "2010000000FD, 1041",
    "20, 1080",
    "2041, 1080",
    "204100000000, 1080",
    "20410000000000, 1080",
    "20410000000080, 1080",
    "20410000000041, 1080",
    "200100000000, 1080",
    "20090000001081, 1080",
    "2009000000108101FF, 1080",
    "200900000010, 1080",
    "204000000000, 1080",
    "20420000000010, 1081",
    "204000000000EF10, 1081",
    "20020000000010, 1081",
    "2084, 1080",
    "2088020112, 1080",
    "208C, 1080",
    "208C08, 1080",
    "20AA, 1080",
  })
  void commandThatIsUnknownOrMakesNoSenseIsRejected(String request, String errorCode) {
    askRejected(request, errorCode);
    ask(payload("read-fd"), REPLY_FOLLOWS).reply(payload("read-reply-ok"));
    assertEquals(List.of(), done);
  }

  // S-9.7.4.2 §4.8: at once, so without a reply; the data is there
  @Test
  void whatIsWrittenIsThereAndNoReplyFollows() {
    ask(payload("write-byte"), TAKEN);
    dialogue.expectSilence();
    ask("20410000000002", REPLY_FOLLOWS).reply("2051000000005A01");
    ask("200000000001FD77", TAKEN);
    ask("20410000000002", REPLY_FOLLOWS).reply("2051000000005A77");
    ask("200100000000" + countingUp(64), TAKEN);
    assertEquals(List.of("written 0 5A", "written 1 77", "written 0 " + countingUp(64)), done);
    assertEquals(countingUp(128), configuration.content());
  }

  // S-9.7.4.2 §4.3, §4.9: nothing is written
  @Test
  void whatCannotBeWrittenIsRefusedAndNothingChanges() {
    ask("20030000000041", REPLY_FOLLOWS).reply(payload("write-reply-fail-ro"));
    ask("200000000001FC41", REPLY_FOLLOWS).reply("201800000001FC1083");
    ask("20010000007F4142", REPLY_FOLLOWS).reply("20190000007F1082");
    ask("2001FFFFFFFF41", REPLY_FOLLOWS).reply("2019FFFFFFFF1082");
    ask("20000000100F1041", REPLY_FOLLOWS).reply("20180000100F102080");
    askRejected("200100000000" + "41".repeat(65), "1080");
    assertEquals(countingUp(128), configuration.content());
    assertEquals(List.of(), done);
  }

  // S-9.7.4.2 §4.10: mask byte first; only masked bits change
  @Test
  void writeUnderMaskChangesOnlyTheMaskedBits() {
    ask("200100000010F0F0", TAKEN);
    ask(payload("write-under-mask"), TAKEN);
    ask("20410000001002", REPLY_FOLLOWS).reply("20510000001071F0");
    ask("200800000010FDFF000F0F", TAKEN);
    ask("20410000001002", REPLY_FOLLOWS).reply("20510000001000FF");
    ask("200B0000000001FF", REPLY_FOLLOWS).reply("201B000000001083");
    ask("20090000007F01FF01FF", REPLY_FOLLOWS).reply("20190000007F1082");
    ask("20080000100F1001FF", REPLY_FOLLOWS).reply("20180000100F102020");
  }

  // S-9.7.4.2 §4.13, §4.14
  @Test
  void optionsTellWhatWorks() {
    ask(payload("options"), REPLY_FOLLOWS).reply("2082EE00E2FF10");
  }

  // S-9.7.4.2 §4.15, §4.16; lcc.md §10.3 on the place of the description
  @Test
  void spacesAreDescribed() {
    ask(payload("space-info"), REPLY_FOLLOWS).reply("2087FD0000007F00");
    ask("2084FF", REPLY_FOLLOWS).reply("2087FF0000000701");
    ask("2084FC", REPLY_FOLLOWS).reply("2087FC0000007C03" + "00000000" + "4D616B657200");
    ask("2084FB", REPLY_FOLLOWS).reply("2087FB0000007F02" + "00000000" + "5573657200");
    ask("208410", REPLY_FOLLOWS).reply("2087100000100F02" + "00001000" + "52414D00");
    ask("208411", REPLY_FOLLOWS).reply("208611");
  }

  // S-9.7.4.2 §4.17, §4.18: who comes first; anybody releases; a reset does; writing goes on
  @Test
  void lockIsHeldByWhoComesFirst() {
    ask(payload("lock"), REPLY_FOLLOWS).reply(payload("lock-reply"));
    ask("208802010D000001", REPLY_FOLLOWS).reply(payload("lock-reply"));
    ask(payload("write-byte"), TAKEN);
    ask(payload("lock-release"), REPLY_FOLLOWS).reply("208A000000000000");
    ask("208802010D000001", REPLY_FOLLOWS).reply("208A02010D000001");
    dialogue.start().pass(1000).takeSaid();
    tell(0x67E, Bytes.ofHex("2080"));
    dialogue.send(":X1A28B67EN208802010DABCDEF;");
    assertEquals(
        List.of(":X19A2828BN067E80;", ":X1A67E28BN208A02010DABCDEF;"), dialogue.takeSaid());
  }

  // S-9.7.4.2 §4.19, §4.20
  @Test
  void uniqueEventsAreNeverGivenTwice() {
    ask(payload("get-unique-id"), REPLY_FOLLOWS).reply(payload("get-unique-id-reply"));
    ask("208C02", REPLY_FOLLOWS).reply("208D02010D123456010102010D1234560102");
    ask("208C00", REPLY_FOLLOWS).reply("208D");
    askRejected("208C07", "1000");
    askRejected("208C01", "1000");
  }

  // S-9.7.4.2 §4.23, §4.24, §4.25: answered first, then done; reset for this node only
  @Test
  void updateResetAndDefaultsAreDoneAfterTheAnswer() {
    ask(payload("update-complete"), TAKEN);
    ask(payload("factory-reset"), TAKEN);
    askRejected("20AA02010DABCDEF", "1080");
    ask(payload("reset"), TAKEN);
    dialogue.expect(":X10703458N02010D123456;");
    assertEquals(List.of("update complete", "factory reset", "reboot"), done);
    dialogue.pass(1000);
    List<String> said = dialogue.takeSaid();
    assertEquals(":X1910028BN02010D123456;", said.get(said.size() - 1));
  }

  // S-9.7.4.1 §5.1.2
  @Test
  void identitySpacesAreLaidOutAsPublished() {
    assertEquals(published("space_252_FC"), whole(identity.maker()));
    assertEquals(published("space_251_FB"), whole(identity.user()));
    ask(payload("read-acdi-user"), REPLY_FOLLOWS)
        .reply("205000000001FB" + "59617264" + "00".repeat(59));
  }

  private static String published(String name) {
    return IDENTITY_VECTORS.get(name).get("bytes").asText();
  }

  private static String whole(AddressSpace space) {
    return space.read(0, (int) space.highest() + 1).orElseThrow().toString();
  }

  // S-9.7.4.3 §6.3: answered, then initialized again; then the new name is told
  @Test
  void newUserNameIsAnnouncedAndToldFromThenOn() {
    ask("200000000001FB4561737400", TAKEN);
    dialogue.expect(":X19100458N02010D123456;").expectSilence();
    assertEquals(List.of("user is East, Throat signals"), done);
    dialogue.send(":X19DE867EN0458;");
    StringBuilder told = new StringBuilder();
    dialogue.takeSaid().forEach(text -> told.append(text, 15, text.length() - 1));
    assertTrue(told.toString().contains("024561737400"), told.toString());
    ask("200000000001FB4561737400", TAKEN);
    dialogue.expectSilence();
  }

  // S-9.7.4.1 §5.1.2: the version stays; a text filled to the brim is closed all the same
  @Test
  void userSpaceStaysReadable() {
    ask("200000000000FB07" + "42".repeat(63), TAKEN);
    dialogue.expect(":X19100458N02010D123456;");
    ask("204000000000FB02", REPLY_FOLLOWS).reply("205000000000FB0242");
    assertEquals("B".repeat(62), identity.identity().userName());
    assertEquals(0x02, identity.user().read(0, 1).orElseThrow().at(0));
    ask("200000000001FBFF00", TAKEN);
    assertEquals("?", identity.identity().userName());
  }

  // S-9.7.3 §3.3.7, S-9.7.4.1 §5.1.2: the published example of all that is spoken here
  @Test
  void protocolSupportTellsWhatTheSpacesAllow() {
    dialogue.send(":X1982867EN0458;").expect(":X19668458N067E545800;");
    var bare = new MemoryServer(NODE, List.of(configuration), new Owner());
    assertEquals(0x100000, bare.protocols());
  }

  // S-9.7.3.2 §7.2: several tools at a time
  @Test
  void toolsDoNotDisturbOneAnother() {
    tell(0x67E, Bytes.ofHex("20410000000001"));
    tell(0x123, Bytes.ofHex("20410000000101"));
    tell(0x67E, Bytes.ofHex("20410000000201"));
    dialogue.expect(":X19A28458N067E80;", ":X1A67E458N20510000000000;");
    dialogue.expect(":X19A28458N012380;", ":X1A123458N20510000000101;");
    dialogue.expect(":X19A28458N067E80;").expectSilence();
    dialogue.send(":X19A28123N0458;").expectSilence();
    dialogue.send(":X19A2867EN0458;").expect(":X1A67E458N20510000000202;").expectSilence();
  }

  // S-9.7.4.1 §5: the description ends with a zero byte
  @Test
  void descriptionIsReadToItsEnd() {
    ask(payload("read-cdi"), REPLY_FOLLOWS)
        .reply(
            "205300000000"
                + Bytes.copyOf("<cdi/>\n\0".getBytes(java.nio.charset.StandardCharsets.UTF_8)));
  }

  @ParameterizedTest
  @ValueSource(ints = {-1, 0x100})
  void spaceNumberIsAByte(int number) {
    assertThrows(
        IllegalArgumentException.class, () -> MemorySpace.readOnly(number, "", Bytes.of(0)));
    assertThrows(
        IllegalArgumentException.class, () -> new MemoryServer(NODE, List.of(), new Owner()));
  }

  // lcc.md §19 item 61: whatever comes, there is one answer and the next request works
  @Test
  void anyDatagramIsAnsweredOnceAndNothingBreaks() {
    long seed = Seed.of(getClass());
    Random random = new Random(seed);
    for (int count = 0; count < 20_000; count++) {
      byte[] content = new byte[random.nextInt(72)];
      random.nextBytes(content);
      tell(0x67E, Bytes.of(0x20).and(bounded(content)));
      String first = dialogue.takeSaid().get(0);
      assertTrue(first.matches(":X19A[24]8458N067E.*;"), "seed " + seed + ": " + first);
      dialogue.send(":X19A2867EN0458;").takeSaid();
      settleAfterReset();
    }
    ask("2084FD", REPLY_FOLLOWS).reply("2087FD0000007F00");
  }

  /** Half of all requests name a command and an address near those that exist. */
  private static Bytes bounded(byte[] content) {
    if (content.length > 4 && content[content.length - 1] > 0) {
      content[0] = (byte) (content[0] & 0x4B);
      content[1] = 0;
      content[2] = 0;
      content[3] = (byte) (content[3] & 0x10);
    }
    boolean resets = content.length > 0 && (content[0] & 0xFF) == 0xA9;
    return resets ? Bytes.of(0xA8) : Bytes.copyOf(content);
  }

  private void settleAfterReset() {
    dialogue.pass(100).takeSaid();
  }
}
