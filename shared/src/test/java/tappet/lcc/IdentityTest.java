package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Simple node information; the node under test has alias 458 and the peer 67E. */
class IdentityTest {

  private static final JsonNode VECTORS = Vectors.read("simple-node-information.json");
  private static final Identity YARD =
      new Identity(
          "Example Railway Works",
          "Interlocking daemon",
          "none",
          "1.0.0",
          "Yard",
          "Throat signals");

  private final Dialogue dialogue =
      new Dialogue("02.01.0D.12.34.56", List.of(), List.of()).identifyAs(YARD).upAndReady();

  // S-9.7.4.3 §5.1, §6.2; S-9.7.3 §7.3.1.3
  @Test
  void requestIsAnsweredAsPublished() {
    dialogue.send(":X19DE867EN0458;").expect(Vectors.texts(Vectors.row(VECTORS, "snip-reply")));
    dialogue.expectSilence();
  }

  // S-9.7.4.3 §5.1
  @Test
  void emptyAndLongestTextsAreWrittenAsPublished() {
    assertEquals(
        Vectors.row(VECTORS, "snip-reply-empty").get("payload").asText(),
        new Identity("", "", "", "", "", "").encode().toString());
    var longest =
        new Identity(
            "A".repeat(40),
            "A".repeat(40),
            "A".repeat(20),
            "A".repeat(20),
            "B".repeat(62),
            "B".repeat(63));
    JsonNode row = Vectors.row(VECTORS, "snip-reply-longest");
    assertEquals(row.get("payload_length").asInt(), longest.encode().length());
    var frames =
        AddressedFrames.of(Mti.SIMPLE_NODE_INFORMATION_REPLY, 0x458, 0x67E, longest.encode());
    assertEquals(row.get("frame_count").asInt(), frames.size());
    assertEquals(row.get("first_frame").asText(), FrameText.encode(frames.get(0)));
    assertEquals(row.get("last_frame").asText(), FrameText.encode(frames.get(42)));
    assertEquals(Optional.of(longest), Identity.decode(longest.encode()));
  }

  // S-9.7.4.3 §5.1, §5.2, §6.2; TN-9.7.4.3 §2.6: all forms a reply may come in
  @ParameterizedTest
  @CsvSource({
    "snip-reply, Yard",
    "snip-reply-empty, ''",
    "snip-reply-old-style, E",
    "snip-reply-future, E"
  })
  void replyIsUnderstoodInEveryForm(String id, String userName) {
    assertTrue(dialogue.node.askIdentity(0x67E, dialogue.nowNs()));
    dialogue.expect(":X19DE8458N067E;");
    for (String text : Vectors.texts(Vectors.row(VECTORS, id))) {
      dialogue.send(text.replace("458N", "67EN").replaceAll("N(.)(67E|458)", "N$1458"));
    }
    dialogue.expectHeard("identity of 67E " + userName).expectSilence();
  }

  // S-9.7.4.3 §6.2: one request at a time to each node; S-9.7.3 §3.7: no sooner than 3 s
  @Test
  void nodeThatDoesNotAnswerIsGivenUpAfterThreeSeconds() {
    assertTrue(dialogue.node.askIdentity(0x67E, dialogue.nowNs()));
    assertFalse(dialogue.node.askIdentity(0x67E, dialogue.nowNs()));
    dialogue.pass(2999).expectHeard().pass(1).expectHeard("identity of 67E none");
    assertTrue(dialogue.node.askIdentity(0x67E, dialogue.nowNs()));
  }

  // S-9.7.3 §3.3.4, §3.5.3; S-9.7.2.1 §6.2.4
  @ParameterizedTest
  @CsvSource({
    ":X1906867EN045810430DE8;",
    ":X1906867EN04582020;",
    ":X1906867EN0458;",
    ":X190A867EN0458;",
    ":X1070367EN02010DABCDEF;",
  })
  void refusalOrEndOfTheNodeEndsTheQuestion(String frame) {
    dialogue.node.askIdentity(0x67E, dialogue.nowNs());
    dialogue.send(frame).expectHeard("identity of 67E none");
    dialogue.send(":X19A0867EN1458054100420043;").pass(5000).expectHeard();
  }

  // TN-9.7.4.3 §2.6: those who ask meanwhile get a full reply, or a temporary refusal
  @Test
  void manyWhoAskAreAnsweredOneAfterTheOther() {
    IntStream.rangeClosed(1, 40)
        .forEach(alias -> dialogue.send(":X19DE8%03XN0458;".formatted(alias)));
    dialogue.send(":X19DE8002N0458;");
    List<String> atOnce = dialogue.takeSaid();
    assertEquals(13, atOnce.stream().filter(text -> text.startsWith(":X19A08458N")).count());
    assertEquals(
        IntStream.rangeClosed(34, 40)
            .mapToObj(":X19068458N0%03X20200DE8;"::formatted)
            .collect(Collectors.toList()),
        atOnce.stream().filter(text -> text.startsWith(":X19068458N")).toList());
    dialogue.pass(3200);
    assertEquals(32 * 13, dialogue.takeSaid().size());
  }

  // S-9.7.4.3 §6.1, S-9.7.3 §3.3.7
  @Test
  void protocolSupportTellsOfSimpleNodeInformation() {
    dialogue.send(":X1982867EN0458;").expect(":X19668458N067E041000;").expectSilence();
  }

  // S-9.7.4.3 §6.3, S-9.7.3.1 §6: initialized again, and the events announced again
  @Test
  void changedIdentityIsAnnouncedAgain() {
    var changing = new Dialogue("02.01.0D.12.34.56", List.of("02.01.0D.12.34.56.00.01"), List.of());
    changing.identifyAs(YARD).upAndReady().node.announceAgain(changing.nowNs());
    changing.expect(":X19100458N02010D123456;", ":X19547458N02010D1234560001;").expectSilence();
  }

  // S-9.7.4.3 §5.1; TN-9.7.0.2 §2.5: bytes count, not characters
  @Test
  void textsThatDoNotFitAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> YARD.withUser("ü".repeat(32), ""));
    assertThrows(IllegalArgumentException.class, () -> YARD.withUser("a\0b", ""));
    assertEquals("ü".repeat(31), YARD.withUser("ü".repeat(31), "").userName());
  }

  // S-9.7.4.3 §5.1: whole only when the last text is closed
  @Test
  void cutReplyIsNotWhole() {
    Bytes whole = YARD.encode();
    for (int length = 0; length < whole.length(); length++) {
      assertEquals(Optional.empty(), Identity.decode(whole.slice(0, length)));
    }
    assertEquals(Optional.of(YARD), Identity.decode(whole));
  }
}
