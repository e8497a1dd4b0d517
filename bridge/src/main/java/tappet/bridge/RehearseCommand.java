package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import tappet.bridge.rehearsal.Coverage;
import tappet.bridge.rehearsal.JUnitXml;
import tappet.bridge.rehearsal.Rehearsal;
import tappet.bridge.rehearsal.RehearsalReport;
import tappet.bridge.rehearsal.Result;
import tappet.bridge.rehearsal.SafetyOnlooker;
import tappet.simulator.scenario.Scenario;
import tappet.source.Problems;

/** {@code tappet rehearse}. */
@Command(
    name = "rehearse",
    description = {
      "Runs scenarios offline, on the simulated railway and with the box that runs the layout,",
      "and tells where one does not go as expected, and why."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:every scenario went as expected",
      "1:one did not, or a file has a mistake",
      "2:the command was not understood"
    },
    mixinStandardHelpOptions = true)
final class RehearseCommand implements Callable<Integer> {

  @Parameters(
      arity = "1..*",
      paramLabel = "PATH",
      description = "a scenario file, or a folder of them")
  private List<Path> paths;

  @Option(
      names = "--layout",
      paramLabel = "FILE",
      description = "the layout file; else layout.yaml beside the first folder of scenarios")
  private Optional<Path> layout;

  @Option(
      names = "--rules",
      paramLabel = "FILE",
      description = "the rule file; else rules.yaml beside the first folder of scenarios")
  private Optional<Path> rules;

  @Option(
      names = "--junit-xml",
      paramLabel = "FILE",
      description = "writes the results for a build server as well")
  private Optional<Path> junitXml;

  @Option(
      names = "--coverage",
      description = "tells what of the rules the scenarios have tried, and what none has")
  private boolean tellCoverage;

  @Override
  public Integer call() throws IOException {
    Problems problems = new Problems();
    Optional<OwnerFiles.Railroad> railroad =
        new OwnerFiles(problems)
            .railroad(
                layout.orElseGet(() -> besideTheFolder("layout.yaml")),
                rules.orElseGet(() -> besideTheFolder("rules.yaml")));
    List<Scenario> scenarios = new ArrayList<>();
    if (railroad.isPresent()) {
      scenarios.addAll(new ScenarioFiles(problems).read(ScenarioFiles.in(paths), railroad.get()));
    }
    problems.sorted().forEach(System.out::println);
    return problems.none() ? rehearse(scenarios, railroad.orElseThrow()) : 1;
  }

  private Path besideTheFolder(String file) {
    Path first = paths.get(0).toAbsolutePath().normalize();
    Path folder = Files.isDirectory(first) ? first : first.getParent();
    Path beside = folder.resolveSibling(file);
    Path here = Path.of("").toAbsolutePath();
    return beside.startsWith(here) ? here.relativize(beside) : beside;
  }

  private int rehearse(List<Scenario> scenarios, OwnerFiles.Railroad railroad) throws IOException {
    Coverage coverage = new Coverage(railroad.layout(), railroad.table());
    List<Result> results = new ArrayList<>();
    for (Scenario scenario : scenarios) {
      Result result =
          Rehearsal.of(
              scenario, railroad.layout(), railroad.table(), new SafetyOnlooker(), coverage);
      System.out.print(RehearsalReport.text(result));
      results.add(result);
    }
    RehearsalReport report = new RehearsalReport(results);
    System.out.print(report.summary());
    if (tellCoverage) {
      System.out.print(coverage.text());
    }
    if (junitXml.isPresent()) {
      Files.writeString(junitXml.get(), JUnitXml.text(results));
    }
    return report.exitStatus();
  }
}
