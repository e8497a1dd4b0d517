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
import tappet.bridge.rehearsal.RehearsalReport;
import tappet.bridge.rehearsal.Result;
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

  /** What is rehearsed, and where. */
  private record Given(OwnerFiles.Railroad railroad, List<Scenario> scenarios) {}

  @Override
  public Integer call() throws IOException {
    return FileCheck.exitStatus(System.out, this::read, this::rehearse);
  }

  private Optional<Given> read(Problems problems) throws IOException {
    List<Path> files = ScenarioFiles.in(paths);
    return new OwnerFiles(problems)
        .railroad(
            layout.orElseGet(() -> besideTheFolder("layout.yaml")),
            rules.orElseGet(() -> besideTheFolder("rules.yaml")))
        .map(read -> new Given(read, new ScenarioFiles(problems).read(files, read)));
  }

  private Path besideTheFolder(String file) {
    Path first = paths.get(0).toAbsolutePath().normalize();
    Path folder = Files.isDirectory(first) ? first : first.getParent();
    Path beside = folder.resolveSibling(file);
    Path here = Path.of("").toAbsolutePath();
    return beside.startsWith(here) ? here.relativize(beside) : beside;
  }

  private int rehearse(Given given) throws IOException {
    Coverage coverage = given.railroad().coverage();
    List<Result> results = new ArrayList<>();
    for (Scenario scenario : given.scenarios()) {
      Result result = given.railroad().rehearse(scenario, coverage);
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
