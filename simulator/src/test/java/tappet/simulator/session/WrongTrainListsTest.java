package tappet.simulator.session;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.source.Problems;
import tappet.source.WrongFiles;

/** Wrong train lists, each beside everything that is to be said about it. */
class WrongTrainListsTest {

  private static final WrongFiles FILES = WrongFiles.inResources("wrong-sessions", "simulator");

  static List<Path> wrongFiles() throws IOException {
    return FILES.all();
  }

  @ParameterizedTest
  @MethodSource("wrongFiles")
  void everyMistakeIsToldAsExpected(Path file) throws IOException {
    Problems problems = new Problems();
    var list =
        TrainListReader.read(
            file.getFileName().toString(), Files.readString(file), Demo.layout(), problems);
    assertTrue(list.isEmpty());
    FILES.compare(file, problems.sorted());
  }

  @Test
  void everyExpectationHasItsFile() throws IOException {
    FILES.requireTwins();
  }
}
