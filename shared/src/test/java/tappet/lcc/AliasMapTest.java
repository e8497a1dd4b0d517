package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The node under test is 02.01.0D.12.34.56 with alias 458; others are …AB.CD.EF and …00.00.01. */
class AliasMapTest {

  private static final NodeId OTHER = NodeId.of("02.01.0D.AB.CD.EF");
  private static final NodeId THIRD = NodeId.of("02.01.0D.00.00.01");

  private final Dialogue dialogue =
      new Dialogue("02.01.0D.12.34.56", List.of(), List.of()).upAndReady();
  private final LccNode node = dialogue.node;

  // S-9.7.2.1 §6.2.2; S-9.7.3 §3.3.1, §3.3.3: the messages that show both alias and node id
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1070167EN02010DABCDEF;",
        ":X0070167EN02010DABCDEF;",
        ":X1910067EN02010DABCDEF;",
        ":X1910167EN02010DABCDEF;",
        ":X1917067EN02010DABCDEF;",
        ":X1917167EN02010DABCDEF;",
      })
  void aliasAndNodeAreLearnedFromWhatShowsBoth(String frame) {
    dialogue.send(frame).expectSilence();
    assertEquals(Optional.of(OTHER), node.nodeOf(0x67E));
    assertEquals(OptionalInt.of(0x67E), node.aliasOf(OTHER));
  }

  // S-9.7.2.1 §6.2.3, §6.2.4: an enquiry for all, a reset; an enquiry for one discards nothing
  @ParameterizedTest
  @CsvSource({
    ":X10703 67EN02010DABCDEF;, false",
    ":X10703 67EN;, false",
    ":X10702 123N;, false",
    ":X10702 123N02010DABCDEF;, true",
    ":X10703 123N02010DABCDEF;, true",
    ":X10700 67EN;, true",
  })
  void pairIsForgottenWhenItsNodeGivesTheAliasUpOrAllAreAskedFor(String frame, boolean kept) {
    dialogue.send(":X1070167EN02010DABCDEF;").send(frame.replace(" ", ""));
    assertEquals(kept, node.nodeOf(0x67E).isPresent());
    assertEquals(kept, node.aliasOf(OTHER).isPresent());
  }

  // S-9.7.2.1 §6.2.3: also while Inhibited
  @Test
  void enquiryForAllWhileInhibitedDiscardsToo() {
    dialogue.send(":X1070167EN02010DABCDEF;", ":X10700458N;", ":X10702123N;");
    assertEquals(Optional.empty(), node.nodeOf(0x67E));
  }

  // S-9.7.2.1 §6.2.2; TN-9.7.2.1 §2.6.2.4: a new definition replaces the old one, either way
  @Test
  void newDefinitionReplacesWhatContradictsIt() {
    dialogue.send(":X1070167EN02010DABCDEF;", ":X1070167EN02010D000001;");
    assertEquals(Optional.of(THIRD), node.nodeOf(0x67E));
    assertEquals(OptionalInt.empty(), node.aliasOf(OTHER));
    dialogue.send(":X10701123N02010D000001;");
    assertEquals(Optional.empty(), node.nodeOf(0x67E));
    assertEquals(OptionalInt.of(0x123), node.aliasOf(THIRD));
  }

  // S-9.7.0.3 §5.13; TN-9.7.0.3 §2.5.2: never act on these as valid
  @ParameterizedTest
  @ValueSource(strings = {":X1070167EN000000000000;", ":X1070167ENFFFFFFFFFFFF;", ":X1070167EN02;"})
  void nodeIdThatCannotBeOneIsNotLearned(String frame) {
    dialogue.send(frame);
    assertEquals(Optional.empty(), node.nodeOf(0x67E));
  }

  // S-9.7.2.1 §6.2.3: except its own
  @Test
  void nodeKnowsItsOwnAlias() {
    dialogue.send(":X10702123N;");
    assertEquals(Optional.of(node.id()), node.nodeOf(0x458));
    assertEquals(OptionalInt.of(0x458), node.aliasOf(node.id()));
    assertEquals(Optional.empty(), node.nodeOf(0));
  }

  // S-9.7.3 §3.4.2, §3.6: whoever asks all nodes answers too
  @Test
  void lookUpMakesNodesTellThemselves() {
    assertTrue(node.lookUp(Optional.of(OTHER), 0));
    dialogue.expect(":X19490458N02010DABCDEF;").expectSilence();
    assertTrue(node.lookUp(Optional.empty(), 0));
    dialogue.expect(":X19490458N;", ":X19170458N02010D123456;").expectSilence();
  }

  // S-9.7.2.1 §6.3: at most as many as there are aliases
  @Test
  void allAliasesOfASegmentAreKept() {
    for (int alias = 1; alias <= 0xFFF; alias++) {
      dialogue.send(":X10701%03XN02010D000%03X;".formatted(alias, alias));
    }
    for (int alias = 1; alias <= 0xFFF; alias++) {
      if (alias != 0x458) {
        assertEquals(Optional.of(new NodeId(0x02010D000000L + alias)), node.nodeOf(alias));
      }
    }
  }
}
