package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import tappet.interlocking.Interlocking;
import tappet.network.Variable;
import tappet.source.Problems;

/** What the owner's handbook tells is what the program says, and nothing of that is left out. */
class HandbookTest {

  private static final Path HANDBOOK = Path.of("../config/handbook");
  private static final Path DEMO = Path.of("../config/demo");

  private static final String TEXT = "\"((?:[^\"\\\\]|\\\\.)*)\"";

  /** To the semicolon that ends the statement; one within a text does not. */
  private static final String STATEMENT = "\\s*\\((?:[^\";]|\"(?:[^\"\\\\]|\\\\.)*\")*;";

  private static final Pattern TROUBLES =
      Pattern.compile(
          "(?:alarms\\.raise\\w*|LOG\\.(?:warn|error)|[tT]rouble\\.(?:arises|happened|accept))"
              + STATEMENT);

  private static final Pattern PROBLEMS = Pattern.compile("(?:problems\\.add|\\.note)" + STATEMENT);

  /** In rooms of the bridge below its own, a note is one of a log and no problem. */
  private static final Pattern PROBLEMS_ALONE = Pattern.compile("problems\\.add" + STATEMENT);

  /** What stands for a name, a number or a reason in a text of the sources. */
  private static final Pattern GAP = Pattern.compile("%[,.0-9]*[a-zA-Z]|\\{}");

  private static final Pattern ID = Pattern.compile("(?m)^\\| ([A-Z][0-9]+) \\|");

  /** How the alarms of the interlocking's circuits are called in its network. */
  private static final Pattern ALARM =
      Pattern.compile(
          ".*: (?:stands|out of correspondence|opened under a route|time to close"
              + "|open without leave|time|switch left \\w+ without leave|tripped|lock time|time-out"
              + "|in doubt|lamp [a-z-]+ failed)");

  @Test
  void everyTroubleIsExplained() throws IOException {
    Map<String, String> untold = untold(TROUBLES, TROUBLES, Integer.MAX_VALUE);

    assertEquals(Map.of(), untold);
  }

  @Test
  void everyProblemOfAnOwnersFileIsExplained() throws IOException {
    Map<String, String> untold = untold(PROBLEMS, PROBLEMS_ALONE, 1);

    assertEquals(Map.of(), untold);
  }

  @Test
  void theSearchFindsWhatIsSaid() {
    List<String> pieces =
        pieces("alarms.raise(\n  \"a; b \" + \"c %s d\".formatted(e));\n", TROUBLES, 9).toList();

    assertEquals(List.of("a; b c", "d"), pieces);
  }

  @Test
  void everyAlarmOfTheInterlockingIsExplained() throws IOException {
    List<Pattern> told = wordings(messages());

    for (String alarm : alarmsOfTheDemo()) {
      assertTrue(told.stream().anyMatch(words -> words.matcher(alarm).matches()), alarm);
    }
  }

  @Test
  void everyIdStandsOnce() throws IOException {
    List<String> ids = ID.matcher(messages()).results().map(found -> found.group(1)).toList();

    assertFalse(ids.isEmpty());
    assertEquals(List.copyOf(new TreeSet<>(ids)), ids.stream().sorted().toList());
  }

  @Test
  void everyIdThatIsNamedStandsInTheMessages() throws IOException {
    Set<String> known = new TreeSet<>();
    ID.matcher(messages()).results().forEach(found -> known.add(found.group(1)));

    Set<String> named = new TreeSet<>();
    Pattern.compile("\\(([A-Z][0-9]+)[,)]")
        .matcher(wholeHandbook())
        .results()
        .forEach(found -> named.add(found.group(1)));

    assertFalse(named.isEmpty());
    named.removeAll(known);
    assertEquals(Set.of(), named);
  }

  @Test
  void everyCommandIsTold() throws IOException {
    String handbook = wholeHandbook();

    for (String command : new CommandLine(new Tappet()).getSubcommands().keySet()) {
      assertTrue(handbook.contains("tappet " + command), command);
    }
  }

  @Test
  void everyPageThatIsLinkedIsThere() throws IOException {
    Pattern links = Pattern.compile("]\\(([^):#]+)(?:#[^)]*)?\\)");
    for (Path page : pages()) {
      for (MatchResult link : links.matcher(Files.readString(page)).results().toList()) {
        Path linked = page.resolveSibling(link.group(1));
        assertTrue(Files.exists(linked), () -> page + " leads to " + linked);
      }
    }
  }

  /** By what is said nowhere in the messages: the source that says it. */
  private static Map<String, String> untold(Pattern calls, Pattern callsInTheBridge, int texts)
      throws IOException {
    String messages = messages();
    Map<String, String> untold = new LinkedHashMap<>();
    boolean anything = false;
    for (Path source : sources()) {
      Pattern here = isInARoomOfTheBridge(source) ? callsInTheBridge : calls;
      for (String piece : pieces(Files.readString(source), here, texts).toList()) {
        anything = true;
        if (!messages.contains(piece)) {
          untold.put(piece, source.getFileName().toString());
        }
      }
    }
    assertTrue(anything, "nothing is said at all?");
    return untold;
  }

  private static boolean isInARoomOfTheBridge(Path source) {
    return source.toString().contains("tappet/bridge/") && !source.getParent().endsWith("bridge");
  }

  /** The fixed words of what a source says by such calls, of the first texts of each. */
  private static Stream<String> pieces(String source, Pattern calls, int texts) {
    String joined = source.replaceAll("\"\\s*\\+\\s*\"", "");
    return calls
        .matcher(joined)
        .results()
        .flatMap(
            call ->
                Pattern.compile(TEXT)
                    .matcher(call.group())
                    .results()
                    .limit(texts)
                    .map(text -> text.group(1)))
        .flatMap(text -> GAP.splitAsStream(text.replace("\\\"", "\"")))
        .map(String::strip)
        .filter(piece -> piece.chars().anyMatch(Character::isLetter));
  }

  private static List<String> alarmsOfTheDemo() {
    OwnerFiles.Railroad railroad =
        new OwnerFiles(new Problems())
            .railroad(DEMO.resolve("layout.yaml"), DEMO.resolve("rules.yaml"))
            .orElseThrow();
    List<String> alarms =
        new Interlocking(railroad.layout(), railroad.table())
            .network().variables().stream()
                .filter(variable -> ALARM.matcher(variable.name()).matches())
                .map(Variable::words)
                .map(words -> words.when(true))
                .filter(words -> !words.isEmpty())
                .toList();
    assertFalse(alarms.isEmpty());
    return alarms;
  }

  /** The alarms of the interlocking as they are listed; words in capitals stand for anything. */
  private static List<Pattern> wordings(String messages) {
    int start = messages.indexOf("### What the interlocking tells");
    int end = messages.indexOf("### What the box tells");
    return Pattern.compile("`([^`\n]+)`")
        .matcher(messages.substring(start, end))
        .results()
        .map(span -> span.group(1).replaceAll("\\b[A-Z]+\\b", "\\\\E.+\\\\Q"))
        .map(words -> Pattern.compile("\\Q" + words + "\\E"))
        .toList();
  }

  private static List<Path> sources() throws IOException {
    List<Path> sources = new ArrayList<>();
    for (String module : List.of("shared", "rules", "simulator", "bridge")) {
      try (Stream<Path> files = Files.walk(Path.of("..", module, "src", "main", "java"))) {
        files.filter(file -> file.toString().endsWith(".java")).sorted().forEach(sources::add);
      }
    }
    return sources;
  }

  private static String messages() throws IOException {
    return Files.readString(HANDBOOK.resolve("messages.md"));
  }

  private static String wholeHandbook() throws IOException {
    StringBuilder whole = new StringBuilder();
    for (Path page : pages()) {
      whole.append(Files.readString(page));
    }
    return whole.toString();
  }

  private static List<Path> pages() throws IOException {
    try (Stream<Path> files = Files.list(HANDBOOK)) {
      return files.filter(file -> file.toString().endsWith(".md")).sorted().toList();
    }
  }
}
