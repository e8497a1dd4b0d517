package tappet.bridge.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.network.Variable;
import tappet.proof.Beginning;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.proof.Story.Moment;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** Everything that can happen in a story of the demo has a sentence. */
class StoryTellerTest {

  private static final Path DEMO = Path.of("..", "config", "demo");

  private static Watched watched;
  private static StoryTeller teller;

  @BeforeAll
  static void readTheDemo() throws IOException {
    Problems problems = new Problems();
    String plan = Files.readString(DEMO.resolve("layout.yaml"));
    Layout layout = LayoutReader.read("layout.yaml", plan, problems).orElseThrow();
    String rows = Files.readString(DEMO.resolve("rules.yaml"));
    ControlTable table = RuleReader.read("rules.yaml", rows, layout, problems).orElseThrow();
    watched = SafetyProperties.of(layout, new Interlocking(layout, table).network());
    teller = new StoryTeller(layout, table, watched);
  }

  private static Account account(Moment... moments) {
    Property property = watched.properties().get(0);
    return teller.account(property, new Story(Beginning.AT_REST, List.of(moments)));
  }

  private static Moment pulse(String name) {
    return new Moment(List.of(), List.of(), Set.of(watched.network().named(name)));
  }

  private static Moment report(String name, boolean value) {
    return new Moment(List.of(watched.network().named(name)), List.of(value), Set.of());
  }

  private static List<String> sentences(Account account) {
    return account.deeds().stream()
        .map(deed -> deed.kind().key() + ": " + deed.sentence())
        .toList();
  }

  @Test
  void requestsReportsAndTimesAreSteps() {
    Account account =
        account(
            pulse("route t2e-t4e: asked"),
            report("section tilling-w: occupied", true),
            report("switch t1: detected reverse", true),
            report("switch t1: detected normal", false),
            pulse("signal t2e: cancelled"),
            pulse("route t2e-t4e: release time runs out"),
            report("section tilling-w: occupied", false));
    assertEquals(
        List.of(
            "tell: line t2e to t4e",
            "fault: section tilling-w reports occupied",
            "fault: switch t1 reports both",
            "fault: switch t1 reports reverse",
            "tell: cancel t2e",
            "pass: 10 s",
            "fault: section tilling-w reports clear"),
        sentences(account));
    assertTrue(account.canBePlayed());
    assertTrue(
        account.scenario().contains("steps:\n  - tell: line t2e to t4e\n"), account.scenario());
    assertEquals(1, account.rows().size(), "the row of the route that is lined");
  }

  @Test
  void whatIsToldTwiceIsSaidOnce() {
    Account account =
        account(
            report("opening doorway: detected closed", false),
            report("opening doorway: known closed", false));
    assertEquals(List.of("fault: opening doorway reports nothing"), sentences(account));
  }

  /** What no sentence says can only be so after a restart, or follows from what was asked. */
  @Test
  void everythingThatCanHappenHasASentence() {
    List<String> unsaid = new ArrayList<>();
    for (Variable variable : watched.network().variables()) {
      if (variable.kind() == Variable.Kind.PULSE) {
        tell(pulse(variable.name()), unsaid);
      } else if (variable.kind() == Variable.Kind.INPUT) {
        tell(report(variable.name(), true), unsaid);
        tell(report(variable.name(), false), unsaid);
      }
    }
    Set<String> kinds = new TreeSet<>();
    unsaid.forEach(words -> kinds.add(words.replaceAll(".*(stands again).*", "$1")));
    assertEquals(
        Set.of(
            "stands again",
            "the fast clock is known",
            "the fast clock is not known",
            "what was known of protections is lost"),
        kinds);
  }

  private static void tell(Moment moment, List<String> unsaid) {
    account(moment).deeds().stream()
        .filter(deed -> deed.kind() == Deed.Kind.UNSAID)
        .forEach(deed -> unsaid.add(deed.words()));
  }
}
