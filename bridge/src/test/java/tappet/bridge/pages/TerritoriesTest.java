package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.view.Demo;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** Which sentences belong to which part of the railroad. */
class TerritoriesTest {

  private static final Territories TERRITORIES =
      new Territories(
          Demo.layout(),
          Demo.table(),
          Map.of("west", List.of("fallow", "tilling"), "east", List.of("midway", "corvane")));

  private static Command command(String sentence) {
    return Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
  }

  private static Optional<String> whyNot(String own, String sentence) {
    return TERRITORIES.whyNot(Optional.of(own), command(sentence));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "line c2e to corvane-end",
        "line route c2e-corvane-end",
        "fleet c2e to corvane-end",
        "unfleet c2e",
        "unstack c2e",
        "cancel c2e",
        "set traffic midway east",
        "throw c1 reverse",
        "release q1",
        "secure q1",
        "grant permit to X on west-main, mid-west",
        "block signal c2e for X",
        "block switch c1 for X",
        "block section mid-west for X",
        "unblock signal c2e"
      })
  void whatLiesElsewhereIsForTheOther(String sentence) {
    assertEquals(
        Optional.of("that lies in territory east, and yours is west"), whyNot("west", sentence));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "line t2e to t4e",
        "throw t1 reverse",
        "unlock doorway",
        "lock doorway",
        "start clock",
        "acknowledge x",
        "flag creamery by X",
        "cancel nowhere"
      })
  void whatLiesHereOrNowhereIsNotHeldBack(String sentence) {
    assertEquals(Optional.empty(), whyNot("west", sentence));
  }

  @Test
  void trackInNoTerritoryIsForWhoHasTheWholeRailroad() {
    assertEquals(
        Optional.of("that lies in no territory, and yours is west"),
        whyNot("west", "throw y2 reverse"));
    assertEquals(
        Optional.empty(), TERRITORIES.whyNot(Optional.empty(), command("throw y2 reverse")));
  }
}
