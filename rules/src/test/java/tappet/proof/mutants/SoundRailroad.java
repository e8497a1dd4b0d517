package tappet.proof.mutants;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.network.Network;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.RuleReader;
import tappet.rules.draft.RuleDraft;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * A railroad whose rules are to be spoiled: one that comes with Tappet, or a published station with
 * the rules drafted for it.
 */
record SoundRailroad(String name, Layout layout, String rules) {

  static final List<String> NAMES =
      List.of(
          "starter",
          "demo",
          "abrial-train-system",
          "coq-junction-ssi",
          "crossing-loop",
          "railml-station",
          "tram-relay-equations");

  /** Tests run in a module's folder, commands wherever they are told that home is. */
  private static final Path HOME = Path.of(System.getProperty("tappet.home", ".."));

  private static final Path CONFIG = HOME.resolve("config");
  private static final Path PUBLISHED =
      HOME.resolve(Path.of("rules", "src", "test", "resources", "published-layouts"));

  static SoundRailroad named(String name) {
    Path folder = CONFIG.resolve(name);
    if (Files.isDirectory(folder)) {
      Layout layout = layout(text(folder.resolve("layout.yaml")));
      return new SoundRailroad(name, layout, text(folder.resolve("rules.yaml")));
    }
    return published(name, text(PUBLISHED.resolve(name + ".yaml")));
  }

  /**
   * What is published tells neither how trains run nor what guards what. Here they stop within 6 s,
   * as they do on the demo, the reverse leg of a switch is slow, and a switch guards what every row
   * turns it away from.
   */
  private static SoundRailroad published(String name, String plan) {
    Layout layout = layout(plan);
    String rules = RuleDraft.of(layout).text();
    ControlTable table = RuleReader.read("rules.yaml", rules, layout, new Problems()).orElseThrow();
    return new SoundRailroad(name, layout(plan + trains(layout) + guards(layout, table)), rules);
  }

  private static String trains(Layout layout) {
    String slow =
        layout.switches().keySet().stream()
            .map(toe -> toe + ": reverse")
            .collect(Collectors.joining(", "));
    return "trains: {stop within: 6 s, slow over: {" + slow + "}}\n";
  }

  private static String guards(Layout layout, ControlTable table) {
    StringBuilder guards = new StringBuilder();
    for (String section : layout.sections().keySet()) {
      List<RouteRow> over =
          table.routes().values().stream().filter(row -> row.path().contains(section)).toList();
      String guarding =
          layout.switches().keySet().stream()
              .flatMap(toe -> guarding(toe, over).stream())
              .collect(Collectors.joining(", "));
      if (!guarding.isEmpty()) {
        guards.append("  - {section: ").append(section).append(", switches: {");
        guards.append(guarding).append("}}\n");
      }
    }
    return guards.isEmpty() ? "" : "guards:\n" + guards;
  }

  /** How a switch lies in each of some rows that does not lead over it, if it does in any. */
  private static Optional<String> guarding(String toe, List<RouteRow> rows) {
    List<RouteRow> beside = rows.stream().filter(row -> !row.switches().containsKey(toe)).toList();
    List<Optional<Position>> positions =
        beside.stream().map(row -> Optional.ofNullable(row.flank().get(toe))).distinct().toList();
    return positions.size() == 1
        ? positions.get(0).map(position -> toe + ": " + position.word())
        : Optional.empty();
  }

  private static Layout layout(String plan) {
    Problems problems = new Problems();
    return LayoutReader.read("layout.yaml", plan, problems)
        .orElseThrow(() -> new IllegalStateException(problems.sorted().toString()));
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The network of some rules on this layout; empty where they have a mistake. */
  Optional<Network> compiled(String otherRules) {
    return RuleReader.read("rules.yaml", otherRules, layout, new Problems())
        .map(table -> new Interlocking(layout, table).network());
  }

  /** What the check finds wrong with some rules. */
  List<Problem> mistakes(String otherRules) {
    Problems problems = new Problems();
    var unused = RuleReader.read("rules.yaml", otherRules, layout, problems);
    return problems.sorted();
  }
}
