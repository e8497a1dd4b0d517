package tappet.bridge.session;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import tappet.bridge.rehearsal.SafetyOnlooker;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.rules.draft.RuleDraft;
import tappet.simulator.session.TrainListReader;
import tappet.source.Problem;
import tappet.source.Problems;

/** Train lists on the demo, and on invented railroads whose rules are drafted. */
final class Lists {

  private static final Path DEMO = Path.of("..", "config", "demo");
  private static final Path DRAFTED = Path.of("src", "test", "resources", "session");

  private Lists() {}

  /** The demo's own list. */
  static SessionPlan demo() {
    return demo(text(DEMO.resolve("session.yaml")));
  }

  /** Another list on the demo. */
  static SessionPlan demo(String trains) {
    Problems problems = new Problems();
    return given(demoPlan(trains, problems), problems);
  }

  /** What is to be said of a list on the demo. */
  static List<String> problemsOnDemo(String trains) {
    Problems problems = new Problems();
    var unused = demoPlan(trains, problems);
    return problems.sorted().stream().map(Problem::toString).toList();
  }

  private static Optional<SessionPlan> demoPlan(String trains, Problems problems) {
    Layout layout = layout(DEMO.resolve("layout.yaml"), problems);
    return plan(layout, text(DEMO.resolve("rules.yaml")), trains, problems);
  }

  /** The list of an invented railroad, whose rules nobody has written. */
  static SessionPlan drafted(String railroad) {
    Path folder = DRAFTED.resolve(railroad);
    Problems problems = new Problems();
    Layout layout = layout(folder.resolve("layout.yaml"), problems);
    RuleDraft draft = RuleDraft.of(layout);
    draft.lacks().forEach(problems::add);
    String trains = text(folder.resolve("session.yaml"));
    return given(plan(layout, draft.text(), trains, problems), problems);
  }

  private static SessionPlan given(Optional<SessionPlan> plan, Problems problems) {
    if (!problems.none()) {
      throw new IllegalArgumentException(problems.sorted().toString());
    }
    return plan.orElseThrow();
  }

  private static Layout layout(Path file, Problems problems) {
    return LayoutReader.read(file.toString(), text(file), problems).orElseThrow();
  }

  private static Optional<SessionPlan> plan(
      Layout layout, String rules, String trains, Problems problems) {
    ControlTable table = RuleReader.read("rules.yaml", rules, layout, problems).orElseThrow();
    return TrainListReader.read("session.yaml", trains, layout, problems)
        .flatMap(list -> SessionPlan.of(list, layout, table, problems));
  }

  /** A session of that seed under the eyes of the proof, which writes no journal. */
  static VirtualSession session(SessionPlan plan, long seed, Foresight foresight) {
    Journal journal = new Journal(Writer.nullWriter());
    return new VirtualSession(plan, new SafetyOnlooker(), journal, seed, foresight);
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
