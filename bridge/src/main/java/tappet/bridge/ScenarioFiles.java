package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.simulator.scenario.Library;
import tappet.simulator.scenario.Names;
import tappet.simulator.scenario.Scenario;
import tappet.simulator.scenario.ScenarioReader;
import tappet.source.Problems;

/** Finds and reads scenario files; whatever is wrong with them is noted as a problem. */
final class ScenarioFiles implements Library {

  private final OwnerFiles files;
  private final Problems problems;

  ScenarioFiles(Problems problems) {
    this.problems = problems;
    this.files = new OwnerFiles(problems);
  }

  /**
   * The scenario files that paths name: a file is itself, a folder all that are in it, in order.
   */
  static List<Path> in(List<Path> paths) throws IOException {
    List<Path> found = new ArrayList<>();
    for (Path path : paths) {
      if (Files.isDirectory(path)) {
        found.addAll(inFolder(path));
      } else {
        found.add(path);
      }
    }
    return found;
  }

  private static List<Path> inFolder(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.filter(file -> file.toString().endsWith(".yaml")).sorted().toList();
    }
  }

  /** Every scenario that is without a mistake. */
  List<Scenario> read(List<Path> paths, OwnerFiles.Railroad railroad) {
    Names names =
        new Names(
            railroad.layout(),
            railroad.table().routes().keySet(),
            railroad.table().lines().keySet());
    return paths.stream().flatMap(path -> read(path, names).stream()).toList();
  }

  private Optional<Scenario> read(Path path, Names names) {
    return files
        .text(path)
        .flatMap(
            text -> ScenarioReader.read(new Text(path.toString(), text), this, names, problems));
  }

  @Override
  public Optional<Text> include(String from, String name) {
    Path path = Path.of(from).resolveSibling(name).normalize();
    return Files.isRegularFile(path)
        ? files.text(path).map(text -> new Text(path.toString(), text))
        : Optional.empty();
  }
}
