package tappet.source;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A folder of wrong files, each beside everything that is to be said about it. {@code -Daccept}
 * writes down what is said now; read the difference before it is committed.
 *
 * @param folder where they are: {@code NN-name.yaml} and {@code NN-name.expected}
 * @param module the module whose tests they are
 */
public record WrongFiles(Path folder, String module) {

  private static final boolean ACCEPT = System.getProperty("accept") != null;

  /** Those in {@code src/test/resources} of the module under test. */
  public static WrongFiles inResources(String folder, String module) {
    return new WrongFiles(Path.of("src", "test", "resources", folder), module);
  }

  /** The wrong files in order. */
  public List<Path> all() throws IOException {
    return files().stream().filter(file -> file.toString().endsWith(".yaml")).toList();
  }

  /** The one whose name, apart from its number, is {@code name}. */
  public Path named(String name) throws IOException {
    return all().stream()
        .filter(file -> file.getFileName().toString().endsWith("-" + name + ".yaml"))
        .findFirst()
        .orElseThrow();
  }

  /** Fails with the difference unless {@code told} is what stands beside {@code file}. */
  public void compare(Path file, List<Problem> told) throws IOException {
    var expectedFile = expectedFile(file);
    var actual = told.stream().map(problem -> problem + "\n").collect(Collectors.joining());
    if (ACCEPT) {
      Files.writeString(expectedFile, actual);
    }
    var expected = Files.exists(expectedFile) ? Files.readString(expectedFile) : "";
    if (!expected.equals(actual)) {
      fail(difference(expectedFile, expected.lines().toList(), actual.lines().toList()));
    }
  }

  /** Fails if an expectation has lost its file, or there is none at all. */
  public void requireTwins() throws IOException {
    var names = files().stream().map(file -> file.getFileName().toString()).toList();
    assertFalse(names.isEmpty());
    for (String name : names) {
      var twin = name.replace(".expected", ".yaml");
      assertTrue(names.contains(twin), name + " has no " + twin);
    }
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.sorted().toList();
    }
  }

  private String difference(Path file, List<String> expected, List<String> actual) {
    var lines = Stream.concat(without(expected, actual, "- "), without(actual, expected, "+ "));
    return "%s (- expected, + told):\n%s\nto accept: mvn test -pl %s -am -Daccept"
        .formatted(file, lines.collect(Collectors.joining("\n")), module);
  }

  private static Stream<String> without(List<String> lines, List<String> others, String mark) {
    return lines.stream().filter(line -> !others.contains(line)).map(mark::concat);
  }

  private static Path expectedFile(Path file) {
    return file.resolveSibling(file.getFileName().toString().replace(".yaml", ".expected"));
  }
}
