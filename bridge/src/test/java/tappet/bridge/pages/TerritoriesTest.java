package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import tappet.bridge.view.Demo;
import tappet.bridge.view.Facts;
import tappet.bridge.view.Sight;
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

  /** Each lies in the east. */
  private static final List<String> ELSEWHERE =
      List.of(
          "line c2e to corvane-end",
          "line route c2e-corvane-end",
          "fleet c2e to corvane-end",
          "call on c2e to corvane-end",
          "stack c2e to corvane-end",
          "unfleet c2e",
          "unstack c2e",
          "cancel c2e",
          "set traffic midway east",
          "throw c1 reverse",
          "throw c1 reverse for X",
          "release q1",
          "secure q1",
          "grant permit to X on west-main, mid-west",
          "return permit of X",
          "block signal c2e for X",
          "block switch c1 for X",
          "block section mid-west for X",
          "unblock signal c2e",
          "unflag creamery by X");

  /** The west's own, nobody's, and what no place is about. */
  private static final List<String> FREE =
      List.of(
          "line t2e to t4e",
          "throw t1 reverse",
          "throw t1 reverse for X",
          "unlock doorway",
          "lock doorway",
          "return permit of Y",
          "return permit of Nobody",
          "cancel nowhere",
          "flag creamery by X",
          "name X on mid-west",
          "drop name X",
          "acknowledge x",
          "ask for 'throw c1 reverse' by X",
          "withdraw ask 7",
          "run X east",
          "halt X",
          "pick up Y with X",
          "set out 3 cars of X as Y",
          "start clock",
          "stop clock",
          "set clock to 06:30");

  private static final String WHOLE = "confirm protections";

  private static final Sight SIGHT =
      new Sight(
          Map.of(
              "protection",
              Map.of(
                  "permit of X on yard", permit("X", "west-main", "mid-west"),
                  "permit of Y on yard", permit("Y", "west-main"))));

  private static Facts permit(String holder, String... sections) {
    return new Facts(Map.of("by", "permit", "holder", holder, "on", List.of(sections)));
  }

  private static Command command(String sentence) {
    return Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
  }

  private static Optional<String> whyNot(Optional<String> own, String sentence) {
    return TERRITORIES
        .whyNot(
            Role.DISPATCHER, own, command(sentence), () -> CompletableFuture.completedFuture(SIGHT))
        .join();
  }

  private static Optional<String> whyNot(String own, String sentence) {
    return whyNot(Optional.of(own), sentence);
  }

  @ParameterizedTest
  @FieldSource("ELSEWHERE")
  void whatLiesElsewhereIsForTheOther(String sentence) {
    assertEquals(
        Optional.of("that lies in territory east, and yours is west"), whyNot("west", sentence));
    assertEquals(Optional.empty(), whyNot(Optional.empty(), sentence));
  }

  @ParameterizedTest
  @FieldSource("FREE")
  void whatLiesHereOrNowhereIsNotHeldBack(String sentence) {
    assertEquals(Optional.empty(), whyNot("west", sentence));
  }

  @Test
  void whatIsAboutTheWholeRailroadIsForWhoHasIt() {
    assertEquals(
        Optional.of("that is about the whole railroad, and yours is west"), whyNot("west", WHOLE));
    assertEquals(Optional.empty(), whyNot(Optional.empty(), WHOLE));
  }

  @Test
  void trackInNoTerritoryIsForWhoHasTheWholeRailroad() {
    assertEquals(
        Optional.of("that lies in no territory, and yours is west"),
        whyNot("west", "throw y2 reverse"));
    assertEquals(Optional.empty(), whyNot(Optional.empty(), "throw y2 reverse"));
  }

  /** A sentence of a new kind is put into one of the lists above, after some thought. */
  @Test
  void everyKindOfSentenceIsTried() {
    Set<Class<?>> tried =
        Stream.of(ELSEWHERE, FREE, List.of(WHOLE))
            .flatMap(List::stream)
            .map(sentence -> command(sentence).getClass())
            .collect(Collectors.toSet());
    assertEquals(kinds(Command.class).collect(Collectors.toSet()), tried);
  }

  private static Stream<Class<?>> kinds(Class<?> kind) {
    return kind.isSealed()
        ? Arrays.stream(kind.getPermittedSubclasses()).flatMap(TerritoriesTest::kinds)
        : Stream.of(kind);
  }
}
