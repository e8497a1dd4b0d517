package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Interlocking;
import tappet.layout.LayoutReader;
import tappet.measure.Railroad;
import tappet.proof.Story.Moment;
import tappet.proof.track.SafetyProperties;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** What is said of the rules that come with Tappet, and of rules that have been spoiled. */
class ProverTest {

  private static final Path CONFIG = Path.of("..", "config");

  private static Railroad read(String folder, String rules) throws IOException {
    Problems problems = new Problems();
    String layoutText = Files.readString(CONFIG.resolve(folder).resolve("layout.yaml"));
    var layout = LayoutReader.read("layout.yaml", layoutText, problems).orElseThrow();
    var table = RuleReader.read("rules.yaml", rules, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return new Railroad(layout, table.orElseThrow());
  }

  private static String rules(String folder) throws IOException {
    return Files.readString(CONFIG.resolve(folder).resolve("rules.yaml"));
  }

  private static Watched watched(Railroad railroad) {
    return SafetyProperties.of(
        railroad.layout(), new Interlocking(railroad.layout(), railroad.table()).network());
  }

  private static List<Finding> prove(Railroad railroad) {
    return Proof.of(watched(railroad), ProofMemory.none(), (work, done, of) -> {}).findings();
  }

  private static List<String> notProven(List<Finding> findings) {
    return findings.stream()
        .filter(finding -> !(finding.verdict() instanceof Verdict.Proven))
        .map(finding -> finding.property().words())
        .toList();
  }

  @Test
  void starterIsSafe() throws IOException {
    List<Finding> findings = prove(read("starter", rules("starter")));
    assertEquals(List.of(), notProven(findings));
    assertTrue(findings.stream().allMatch(Finding::said), "each property says something");
  }

  /**
   * Interlocking sheet, H.19: an assumption that is none of P1 to P10, nor of what S14 and S17
   * leave to the owner, would hide real faults.
   */
  @Test
  void everyAssumptionIsOneOfTheSheet() throws IOException {
    for (String folder : List.of("starter", "demo")) {
      List<String> assumptions = watched(read(folder, rules(folder))).assumptions();
      assertFalse(assumptions.isEmpty());
      assumptions.forEach(
          assumption -> assertTrue(assumption.matches("(P([1-9]|10)|S1[47])[:,].*"), assumption));
    }
  }

  @Test
  void routesMayHaveNamesOfTheOwner() throws IOException {
    String rules =
        rules("starter").replace("{from: w2e, to: main-end", "{name: in, from: w2e, to: main-end");
    assertEquals(List.of(), notProven(prove(read("starter", rules))));
  }

  @Test
  void afterAnEditNothingIsLearntThatNoPropertyNeeds() throws IOException {
    ProofMemory memory = ProofMemory.none();
    Proof.of(watched(read("starter", rules("starter"))), memory, (work, done, of) -> {});
    String row = "to: west-end, switches: {w1: normal}";
    String edited = rules("starter").replace(row, row + ", approach: [main]");
    Set<String> works = ConcurrentHashMap.newKeySet();

    Proof proof =
        Proof.of(
            watched(read("starter", edited)),
            ProofMemory.of(memory.text()),
            (work, done, of) -> assertTrue(works.add(work) || !work.equals("states"), work));

    assertEquals(List.of(), notProven(proof.findings()));
    assertEquals(Set.of("states", "lemmas", "properties"), works);
  }

  @Test
  void demoIsSafe() throws IOException {
    List<Finding> findings = prove(read("demo", rules("demo")));
    assertEquals(List.of(), notProven(findings));
    assertEquals(
        List.of(
            "nobody else has authority over a section of m2e to quarry-end, q1 reverse"
                + " when it is given"),
        findings.stream()
            .filter(finding -> !finding.said())
            .map(finding -> finding.property().words())
            .toList(),
        "no route leads to the quarry");
  }

  /**
   * 49 CFR 236.410: an electric lock is not released before a train that comes to it. Here the
   * approach ends short of the signal before. The story is no mere artefact of the induction
   * (interlocking sheet, H.19): the network itself plays it.
   */
  @Test
  void lockWithTooShortAnApproachIsDisprovenByAStoryThatTheNetworkPlays() throws IOException {
    String whole = "approach: [tilling-e, mid-west, mill-road, mid-near, corvane-w]";
    String rules = rules("demo");
    assertTrue(rules.contains(whole));
    Watched watched =
        watched(read("demo", rules.replace(whole, "approach: [mid-near, corvane-w]")));
    Property lock =
        watched.properties().stream()
            .filter(property -> property.kind() == Property.Kind.LOCK_UNDER_AUTHORITY)
            .findFirst()
            .orElseThrow();

    StorySearch search = new StorySearch(watched, List.of());
    Story story = search.reaching(lock.holds(), false, 16).orElseThrow();

    assertTrue(search.reaches(story.beginning(), story.moments(), lock.holds(), false));
    for (int index = 0; index < story.moments().size(); index++) {
      List<Moment> fewer = new ArrayList<>(story.moments());
      fewer.remove(index);
      assertFalse(
          search.reaches(story.beginning(), fewer, lock.holds(), false),
          "moment " + (index + 1) + " can be left out of\n" + story.text());
    }
  }

  /**
   * Interlocking sheet, G: an approach is all from where a train can see the signal. The solver is
   * content with stories in which things are reported in the midst of a step, which no network
   * plays: it must be made to leave out what need not happen.
   */
  @Test
  void approachWithoutTheSwitchBeforeItIsDisproven() throws IOException {
    String row = "from: f6w, to: fallow-2-end, switches: {s1: reverse}";
    String rules = rules("demo");
    int approach = rules.indexOf("approach: [west-main, tilling-w]", rules.indexOf(row));
    Watched watched =
        watched(
            read(
                "demo",
                rules.substring(0, approach)
                    + rules.substring(approach).replaceFirst("west-main, tilling-w", "west-main")));
    Property moved =
        watched.properties().stream()
            .filter(
                any -> any.words().equals("switch s1 is not moved while a train may come over it"))
            .findFirst()
            .orElseThrow();

    StorySearch search = new StorySearch(watched, List.of());
    Story story = search.reaching(moved.holds(), false, 12).orElseThrow();

    assertTrue(search.reaches(story.beginning(), story.moments(), moved.holds(), false));
  }

  /** Interlocking sheet, G: the time is taken from the approach, so a train must stop within it. */
  @Test
  void releaseTimeInWhichNoTrainCanStopIsNone() throws IOException {
    String rules = rules("starter").replace("release: 10 s", "release: 3 s");
    assertEquals(
        Set.of(
            Property.Kind.ONE_AUTHORITY,
            Property.Kind.SWITCH_UNDER_AUTHORITY,
            Property.Kind.PEOPLE),
        broken(prove(read("starter", rules))));
  }

  private static Set<Property.Kind> broken(List<Finding> findings) {
    return findings.stream()
        .filter(finding -> finding.verdict() instanceof Verdict.Disproven)
        .map(finding -> finding.property().kind())
        .collect(Collectors.toSet());
  }

  @Test
  void startTimeInWhichNoTrainCanStopIsNone() throws IOException {
    String rules = rules("starter").replace("10 s", "3 s");
    assertTrue(broken(prove(read("starter", rules))).contains(Property.Kind.START));
  }
}
