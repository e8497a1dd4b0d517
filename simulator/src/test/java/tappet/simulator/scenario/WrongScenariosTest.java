package tappet.simulator.scenario;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.source.Problems;
import tappet.source.WrongFiles;

/** Wrong scenario files, each beside everything that is to be said about it. */
class WrongScenariosTest {

  private static final WrongFiles FILES = WrongFiles.inResources("wrong-scenarios", "simulator");

  private static Names names;

  @BeforeAll
  static void readNames() throws IOException {
    names = DemoNames.names();
  }

  static List<Path> wrongFiles() throws IOException {
    return FILES.all();
  }

  @ParameterizedTest
  @MethodSource("wrongFiles")
  void everyMistakeIsToldAsExpected(Path file) throws IOException {
    var problems = new Problems();
    var text = new Library.Text(file.getFileName().toString(), Files.readString(file));
    var scenario = ScenarioReader.read(text, (from, name) -> beside(file, name), names, problems);
    assertTrue(scenario.isEmpty());
    FILES.compare(file, problems.sorted());
  }

  private static Optional<Library.Text> beside(Path file, String name) {
    try {
      return Optional.of(new Library.Text(name, Files.readString(file.resolveSibling(name))));
    } catch (IOException noSuchFile) {
      return Optional.empty();
    }
  }

  @Test
  void everyExpectationHasItsFile() throws IOException {
    FILES.requireTwins();
  }
}
