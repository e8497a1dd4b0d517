package tappet.layout;

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

/** Wrong layout files, each beside everything that is to be said about it. */
class WrongLayoutsTest {

  private static final WrongFiles FILES = WrongFiles.inResources("wrong-layouts", "shared");

  static List<Path> wrongFiles() throws IOException {
    return FILES.all();
  }

  @ParameterizedTest
  @MethodSource("wrongFiles")
  void everyMistakeIsToldAsExpected(Path file) throws IOException {
    var problems = new Problems();
    var layout = LayoutReader.read(file.getFileName().toString(), Files.readString(file), problems);
    assertTrue(layout.isEmpty());
    FILES.compare(file, problems.sorted());
  }

  @Test
  void everyExpectationHasItsFile() throws IOException {
    FILES.requireTwins();
  }
}
