package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The node under test is 02.01.0D.12.34.56, whose first aliases are 458, 28B, F20 (TN-9.7.2.1 §6.1,
 * alias-generation.json).
 */
class AliasLinkTest {

  private static final String[] CHECK_458 = {
    ":X17020458N;", ":X1610D458N;", ":X15123458N;", ":X14456458N;"
  };
  private static final String[] CHECK_28B = {
    ":X1702028BN;", ":X1610D28BN;", ":X1512328BN;", ":X1445628BN;"
  };

  private final Dialogue dialogue = new Dialogue("02.01.0D.12.34.56", List.of(), List.of());

  // S-9.7.2.1 §6.2.1, §6.2.2; S-9.7.3 §3.4.1: startup-sequence.json, line for line
  @Test
  void quietBusGivesTheFirstAliasAfterTheWait() {
    dialogue.start();
    for (JsonNode step : Vectors.read("startup-sequence.json").get("steps")) {
      if (step.has("wait_ms_at_least")) {
        dialogue.pass(step.get("wait_ms_at_least").asLong() - 1).expectSilence().pass(1000);
      } else {
        dialogue.expect(step.get("send").asText());
      }
    }
    dialogue.expectSilence();
    assertEquals(0x458, dialogue.node.alias());
  }

  @Test
  void nodeSaysNothingBeforeItIsStarted() {
    dialogue.send(":X17020458N;", ":X1070267EN;", ":X1949067EN;").pass(1000).expectSilence();
    assertEquals(0, dialogue.node.alias());
    assertEquals(OptionalLong.empty(), dialogue.node.deadlineNs());
  }

  // S-9.7.2.1 §6.2.1: any frame with the tentative alias as its source, of whatever kind
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X17ABC458N;",
        ":X10700458N;",
        ":X10701458N02010DABCDEF;",
        ":X10702458N;",
        ":X10703458N02010DABCDEF;",
        ":X10710458N02010DABCDEF;",
        ":X10000458N;",
        ":X195B4458N02010DABCDEF0001;",
        ":X1A67E458N20;",
        ":X1E000458N;",
      })
  void tentativeAliasIsAbandonedForTheNextAndNotDefended(String frame) {
    dialogue.start().expect(CHECK_458).pass(199).send(frame).expect(CHECK_28B).expectSilence();
    dialogue.pass(199).expectSilence().pass(1000);
    dialogue.expect(":X1070028BN;", ":X1070128BN02010D123456;", ":X1910028BN02010D123456;");
    assertEquals(0x28B, dialogue.node.alias());
  }

  // S-9.7.2.1 §6.2.1: the wait begins anew with every attempt
  @Test
  void collisionsMayFollowOneAnother() {
    dialogue.start().expect(CHECK_458).pass(150).send(":X17ABC458N;").expect(CHECK_28B);
    dialogue.pass(150).send(":X10700458N;").expectSilence().send(":X1070028BN;");
    dialogue.expect(":X17020F20N;", ":X1610DF20N;", ":X15123F20N;", ":X14456F20N;");
    dialogue.pass(199).expectSilence().pass(1000).expect(":X10700F20N;");
  }

  // S-9.7.2.1 §6.2.5; sequences 3 to 1 are CIDs all the same (§6.1)
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X17ABC458N;",
        ":X16ABC458N;",
        ":X15ABC458N;",
        ":X14ABC458N;",
        ":X11000458N;",
        ":X07ABC458N;",
      })
  void aliasInUseIsDefendedAgainstCheckId(String checkId) {
    dialogue.upAndReady().send(checkId).expect(":X10700458N;").expectSilence();
    assertTrue(dialogue.node.ready());
  }

  // S-9.7.2.1 §6.2.5, §6.2.4: AMR is the last frame; a return uses a new reservation
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X10700458N;",
        ":X10701458N02010DABCDEF;",
        ":X10702458N;",
        ":X10703458N02010DABCDEF;",
        ":X10713458N02010DABCDEF;",
        ":X195B4458N02010DABCDEF0001;",
        ":X19828458N0458;",
        ":X1B67E458N20;",
        ":X1F67E458N20;",
      })
  void aliasInUseByAnotherIsGivenUpAndTheNextIsReserved(String frame) {
    dialogue.upAndReady().send(frame).expect(":X10703458N02010D123456;").expect(CHECK_28B);
    assertFalse(dialogue.node.ready());
    assertEquals(0, dialogue.node.alias());
    dialogue.expectSilence().pass(1000);
    dialogue.expect(":X1070028BN;", ":X1070128BN02010D123456;").expectSilence();
    dialogue.expectHeard("ready");
    assertEquals(0x28B, dialogue.node.alias());
  }

  // S-9.7.2.1 §6.2.4
  @Test
  void aliasOnceGivenUpIsNoLongerDefended() {
    dialogue.upAndReady().send(":X10700458N;").pass(1000).expect(":X10703458N02010D123456;");
    dialogue.expect(CHECK_28B).expect(":X1070028BN;", ":X1070128BN02010D123456;");
    dialogue.send(":X17ABC458N;", ":X195B4458N02010DABCDEF0001;").expectSilence();
  }

  // S-9.7.2.1 §6.2.3
  @ParameterizedTest
  @ValueSource(strings = {":X1070267EN;", ":X1070267EN02010D123456;", ":X0070267EN;"})
  void enquiryIsAnsweredWithTheDefinition(String enquiry) {
    dialogue.upAndReady().send(enquiry).expect(":X10701458N02010D123456;").expectSilence();
  }

  // S-9.7.2.1 §6.2.3: equal in length and content
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1070267EN02010DABCDEF;",
        ":X1070267EN02010D1234;",
        ":X1070267EN02010D12345600;",
        ":X1070267EN00;"
      })
  void enquiryForAnotherNodeIsNotAnswered(String enquiry) {
    dialogue.upAndReady().send(enquiry).expectSilence();
  }

  // S-9.7.2.1 §6.2.3, §5
  @Test
  void inhibitedNodeAnswersNoEnquiry() {
    dialogue.start().expect(CHECK_458);
    dialogue.send(":X1070267EN;", ":X1070267EN02010D123456;", ":X1949067EN;").expectSilence();
  }

  // S-9.7.2.1 §6.1: reserved contents; §6.2.7 and TN-9.7.2.1 §2.6.2.7: error reports
  @ParameterizedTest
  @ValueSource(
      strings = {
        ":X1070467EN02010D123456;",
        ":X1000067EN;",
        ":X1071067EN02010D123456;",
        ":X1070367EN02010DABCDEF;",
        ":X1070067EN;",
        ":X1770067EN;",
      })
  void controlFramesOfOthersAreIgnored(String frame) {
    dialogue.upAndReady().send(frame).pass(1000).expectSilence();
    assertTrue(dialogue.node.ready());
  }

  // S-9.7.2.1 §6.2.6; S-9.7.3.1 §6: no report of an event before it has been advertised
  @Test
  void duplicateNodeIdIsReportedOnceAndThenTheNodeIsSilentUntilReset() {
    dialogue.upAndReady().send(":X1070167EN02010D123456;");
    dialogue.expect(":X19544458N0101000000000201;", ":X195B4458N0101000000000201;").expectSilence();
    assertTrue(dialogue.node.duplicateNodeId());
    assertFalse(dialogue.node.ready());
    assertFalse(dialogue.node.report(EventId.of("02.01.0D.12.34.56.00.04")));
    dialogue.send(
        ":X1070167EN02010D123456;",
        ":X1070267EN;",
        ":X17ABC458N;",
        ":X10700458N;",
        ":X1949067EN;",
        ":X1982867EN0458;",
        ":X1917067EN02010D123456;");
    dialogue.pass(10_000).expectSilence().expectHeard();
    dialogue.start().expect(CHECK_28B).pass(1000);
    assertTrue(dialogue.node.ready());
    assertFalse(dialogue.node.duplicateNodeId());
  }

  // S-9.7.2.1 §6.2.5, §6.2.6: a bus joined twice says all again that the node has said
  @Test
  void ownIdFromAnAliasJustGivenUpIsAnEcho() {
    dialogue.upAndReady().send(":X195B4458N02010D1234560001;");
    dialogue.expect(":X10703458N02010D123456;").expect(CHECK_28B);
    dialogue.send(":X10701458N02010D123456;", ":X19100458N02010D123456;").expectSilence();
    assertFalse(dialogue.node.duplicateNodeId());

    dialogue.pass(1000);
    dialogue.expect(":X1070028BN;", ":X1070128BN02010D123456;").expectSilence();
    dialogue.send(":X19170458N02010D123456;", ":X10701458N02010D123456;").expectSilence();
    assertTrue(dialogue.node.ready());
    assertFalse(dialogue.node.duplicateNodeId());
  }

  @Test
  void ownDefinitionComingBackTakesTheAliasAndNothingElse() {
    dialogue.upAndReady().send(":X10701458N02010D123456;");
    dialogue.expect(":X10703458N02010D123456;").expect(CHECK_28B).expectSilence();
    assertFalse(dialogue.node.duplicateNodeId());
  }

  @Test
  void duplicateAtAnotherAliasIsMetWhileEchoesMayCome() {
    dialogue.upAndReady().send(":X195B4458N02010D1234560001;").pass(1000);
    dialogue.send(":X1070167EN02010D123456;");
    assertTrue(dialogue.node.duplicateNodeId());
    assertTrue(dialogue.node.silent());
  }

  @Test
  void duplicateAtTheAliasGivenUpIsMetWhenNoEchoComesAnyMore() {
    dialogue.upAndReady().send(":X195B4458N02010D1234560001;");
    dialogue.pass(9_999).send(":X10701458N02010D123456;");
    assertFalse(dialogue.node.duplicateNodeId());
    dialogue.pass(1).send(":X10701458N02010D123456;");
    assertTrue(dialogue.node.duplicateNodeId());
  }

  // S-9.7.2.1 §6.2.6: only a Permitted node may send the event
  @Test
  void duplicateNodeIdHeardWhileInhibitedIsOnlyNoted() {
    dialogue.start().expect(CHECK_458).send(":X1070167EN02010D123456;").expectSilence();
    assertTrue(dialogue.node.duplicateNodeId());
    assertFalse(dialogue.node.silent());
  }

  // S-9.7.2.1 §6.2.4: a Permitted node sends AMR before it starts over
  @Test
  void resetGivesTheAliasUpFirst() {
    dialogue.upAndReady().start().expect(":X10703458N02010D123456;").expect(CHECK_28B).pass(1000);
    dialogue.expect(":X1070028BN;", ":X1070128BN02010D123456;", ":X1910028BN02010D123456;");
    dialogue.expectSilence();
  }

  // S-9.7.2.1 §6.3: the node may save its generator state to get the same alias again
  @Test
  void nodeThatKeptItsSeedBeginsWithTheAliasItUsedLast() {
    dialogue.upAndReady().send(":X10700458N;").pass(1000);
    assertEquals(0x28B, dialogue.node.alias());
    var again = new Dialogue("02.01.0D.12.34.56", dialogue.node.aliasSeed());
    again.start().expect(CHECK_28B).pass(1000);
    assertEquals(0x28B, again.node.alias());
    again.send(":X1070028BN;").pass(1000);
    assertEquals(0xF20, again.node.alias());
  }

  // S-9.7.2.1 §6.2.4: AMR, then nothing; a later start begins with a reservation
  @Test
  void nodeThatStopsGivesItsAliasUpAndIsSilent() {
    dialogue.upAndReady().node.stop(0);
    dialogue.expect(":X10703458N02010D123456;");
    assertFalse(dialogue.node.ready());
    dialogue.send(":X10702123N;", ":X17ABC458N;", ":X19490123N;", ":X19195458N;").pass(9000);
    dialogue.expectSilence().start().expect(CHECK_28B).pass(1000);
    assertTrue(dialogue.node.ready());
  }

  // S-9.7.2.1 §5: an Inhibited node may not send AMR
  @Test
  void nodeThatStopsWhileItReservesSaysNothing() {
    dialogue.start().expect(CHECK_458).node.stop(0);
    dialogue.pass(1000).expectSilence();
  }
}
