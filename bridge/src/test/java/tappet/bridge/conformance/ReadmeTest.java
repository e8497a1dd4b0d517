package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collector;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The table of {@code conformance/README.md} says what the tests say, and leaves nothing out. */
class ReadmeTest {

  /** The last number of the fact sheet's section 19. */
  private static final int LAST = 104;

  private static final Pattern ROW = Pattern.compile("\\| (\\d+) \\| .* \\| (.+) \\|");
  private static final Pattern NAME = Pattern.compile("\\w+Test\\.\\w+");

  @Test
  void tableListsTheTestsOfEachBehaviour() throws Exception {
    Map<Integer, String> tests = testsOfEachBehaviour();
    List<String> wrong = new ArrayList<>();
    rows()
        .forEach(
            (number, cell) -> {
              String expected = tests.getOrDefault(number, "");
              if (!namesIn(cell).equals(expected)) {
                wrong.add("| %d | … | %s |".formatted(number, expected));
              }
            });
    assertEquals("", String.join("\n", wrong), "rows as they should be");
  }

  @Test
  void behaviourWithoutATestSaysWhyItDoesNotApply() throws IOException {
    rows()
        .forEach(
            (number, cell) ->
                assertTrue(
                    !namesIn(cell).isEmpty() || cell.matches("does not apply: .{10,}"),
                    () -> number + ": " + cell));
  }

  @Test
  void everyBehaviourHasItsRow() throws IOException {
    assertEquals(IntStream.rangeClosed(1, LAST).boxed().toList(), List.copyOf(rows().keySet()));
  }

  private static Map<Integer, String> rows() throws IOException {
    Path table = Path.of("src", "test", "resources", "conformance", "README.md");
    return Files.readAllLines(table).stream()
        .flatMap(line -> ROW.matcher(line).results())
        .collect(
            Collectors.toMap(
                row -> Integer.valueOf(row.group(1)),
                row -> row.group(2),
                (one, other) -> one + other,
                TreeMap::new));
  }

  private static String namesIn(String cell) {
    return NAME.matcher(cell).results().map(MatchResult::group).collect(joined());
  }

  private static Map<Integer, String> testsOfEachBehaviour() throws Exception {
    Map<Integer, TreeSet<String>> tests = new TreeMap<>();
    for (Class<?> type : testClasses()) {
      for (var method : type.getDeclaredMethods()) {
        Checks checks = method.getAnnotation(Checks.class);
        IntStream.of(checks == null ? new int[0] : checks.value())
            .mapToObj(number -> tests.computeIfAbsent(number, none -> new TreeSet<>()))
            .forEach(names -> names.add(type.getSimpleName() + "." + method.getName()));
      }
    }
    return tests.entrySet().stream()
        .collect(
            Collectors.toMap(Map.Entry::getKey, of -> of.getValue().stream().collect(joined())));
  }

  private static List<Class<?>> testClasses() throws Exception {
    List<Class<?>> classes = new ArrayList<>();
    try (Stream<Path> files = Files.list(Path.of(ReadmeTest.class.getResource(".").toURI()))) {
      for (Path file : files.filter(path -> path.toString().endsWith("Test.class")).toList()) {
        String name = file.getFileName().toString().replace(".class", "");
        classes.add(Class.forName(ReadmeTest.class.getPackageName() + "." + name));
      }
    }
    return classes;
  }

  private static Collector<CharSequence, ?, String> joined() {
    return Collectors.joining("<br>");
  }
}
