package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import tappet.interlocking.PublishedExample;
import tappet.proof.ExplicitSearch;
import tappet.proof.Watched;
import tappet.proof.published.RequestBlocks.Version;

/**
 * A. Iliasov and the SafeCap group, sample interlocking data, 2023: the request blocks let trains
 * meet head on. Verdicts and counts of states are those of coq-junction-ssi.json, {@code oracle};
 * the causes are those of its {@code known_gaps}. Tappet's own properties are not asked: they speak
 * of aspects, detected switches and trains, and the publication has requests only.
 */
class RequestBlocksTest {

  private static final PublishedExample PUBLISHED =
      PublishedExample.named(PublishedExample.COQ_JUNCTION);

  private static JsonNode oracle(Version version) {
    return PUBLISHED.data.get("oracle").get(version.name().toLowerCase(Locale.ROOT));
  }

  @ParameterizedTest
  @EnumSource(Version.class)
  void haveAsManyStatesAsTheirFileSays(Version version) {
    Watched watched = RequestBlocks.demandingNoConflict(version);
    ExplicitSearch search =
        new ExplicitSearch(watched.network(), watched.network().latches().keySet());
    search.search(Integer.MAX_VALUE);
    assertEquals(oracle(version).get("states").asInt(), search.states());
  }

  @ParameterizedTest
  @EnumSource(Version.class)
  void exactlyThePairsOfTheirFileAreDisprovenAndAllOthersProven(Version version) {
    Judged judged = Judged.of(RequestBlocks.demandingNoConflict(version));
    Set<String> together = new LinkedHashSet<>();
    for (JsonNode pair : oracle(version).get("conflicting_pairs_that_can_both_be_set")) {
      together.add(RequestBlocks.notBoth(Set.copyOf(PublishedExample.texts(pair))));
    }
    Set<String> others =
        PUBLISHED.publishedConflicts().stream()
            .map(RequestBlocks::notBoth)
            .collect(Collectors.toCollection(LinkedHashSet::new));
    others.removeAll(together);

    assertEquals(together, judged.disproven().keySet());
    assertEquals(others, judged.proven());
  }

  // Known gap 3: both want the same points in the same positions, and no opposing sub-route is
  // tested. Nothing but the two requests is needed.
  @Test
  void headOnPairIsSetByTheTwoRequestsAlone() {
    Judged judged = Judged.of(RequestBlocks.demandingNoConflict(Version.AS_PUBLISHED));
    for (Set<String> pair :
        List.of(Set.of("R102B(M)", "R101-1(M)"), Set.of("R100(M)", "R101-1(M)"))) {
      assertEquals(
          pair.stream().map(route -> "request " + route).collect(Collectors.toSet()),
          Set.copyOf(Judged.moments(judged.disproven().get(RequestBlocks.notBoth(pair)))));
    }
  }

  // Known gap 2: P110 goes normal under UAD-DB, which needs it reverse, since its row tests a name
  // that does not exist. So R108B(M) is set first; with the right name this pair is proven.
  @Test
  void wrongNameLetsPointsGoUnderARouteThatIsSet() {
    Set<String> pair = Set.of("R102B(M)", "R108B(M)");
    Judged asPublished = Judged.of(RequestBlocks.demandingNoConflict(Version.AS_PUBLISHED));
    assertEquals(
        List.of("request R108B(M)", "request R102B(M)"),
        Judged.moments(asPublished.disproven().get(RequestBlocks.notBoth(pair))));
    Judged corrected = Judged.of(RequestBlocks.demandingNoConflict(Version.NAMES_CORRECTED));
    assertTrue(corrected.proven().contains(RequestBlocks.notBoth(pair)));
  }

  // published_properties: both hold of the unsafe network, so they are not what keeps trains apart.
  @Test
  void whatIsPublishedAsSafetyHoldsAndIsNotEnough() {
    Watched watched = RequestBlocks.demandingWhatIsPublished(Version.AS_PUBLISHED);
    Judged judged = Judged.of(watched);
    assertEquals(2 * PUBLISHED.routes().size(), judged.proven().size(), judged.toString());
  }
}
