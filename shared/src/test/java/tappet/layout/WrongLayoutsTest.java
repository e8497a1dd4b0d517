package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * Wrong layout files, each beside everything that is to be said about it. {@code -Daccept} writes
 * down what is said now; read the difference before it is committed.
 */
class WrongLayoutsTest {

  private static final Path FOLDER = Path.of("src", "test", "resources", "wrong-layouts");
  private static final boolean ACCEPT = System.getProperty("accept") != null;

  static List<Path> wrongFiles() throws IOException {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files.filter(file -> file.toString().endsWith(".yaml")).sorted().toList();
    }
  }

  @ParameterizedTest
  @MethodSource("wrongFiles")
  void everyMistakeIsToldAsExpected(Path file) throws IOException {
    var problems = new Problems();
    var layout = LayoutReader.read(file.getFileName().toString(), Files.readString(file), problems);
    assertTrue(layout.isEmpty());
    compare(expectedFile(file), problems.sorted());
  }

  @Test
  void everyExpectationHasItsFile() throws IOException {
    try (Stream<Path> files = Files.list(FOLDER)) {
      var names = files.map(file -> file.getFileName().toString()).toList();
      assertFalse(names.isEmpty());
      for (String name : names) {
        var twin = name.replace(".expected", ".yaml");
        assertTrue(names.contains(twin), name + " has no " + twin);
      }
    }
  }

  private static void compare(Path expectedFile, List<Problem> told) throws IOException {
    var actual = told.stream().map(problem -> problem + "\n").collect(Collectors.joining());
    if (ACCEPT) {
      Files.writeString(expectedFile, actual);
    }
    var expected = Files.exists(expectedFile) ? Files.readString(expectedFile) : "";
    if (!expected.equals(actual)) {
      fail(difference(expectedFile, expected.lines().toList(), actual.lines().toList()));
    }
  }

  private static String difference(Path file, List<String> expected, List<String> actual) {
    var lines = Stream.concat(without(expected, actual, "- "), without(actual, expected, "+ "));
    return "%s (- expected, + told):\n%s\nto accept: mvn test -pl shared -am -Daccept"
        .formatted(file, lines.collect(Collectors.joining("\n")));
  }

  private static Stream<String> without(List<String> lines, List<String> others, String mark) {
    return lines.stream().filter(line -> !others.contains(line)).map(mark::concat);
  }

  private static Path expectedFile(Path file) {
    return file.resolveSibling(file.getFileName().toString().replace(".yaml", ".expected"));
  }
}
