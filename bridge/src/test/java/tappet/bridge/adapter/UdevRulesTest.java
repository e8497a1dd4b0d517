package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * The rules for stable device names. The grammar of a line is that of udev(7), RULES FILES, as far
 * as it is used here; from memory.
 */
class UdevRulesTest {

  private static final String CLAUSE =
      "([A-Z]+)(\\{[A-Za-z_]+})?\\s*(==|!=|\\+=|:=|=)\\s*\"([^\"]*)\"";
  private static final Pattern LINE = Pattern.compile(CLAUSE + "(\\s*,\\s*" + CLAUSE + ")*");
  private static final Pattern ONE = Pattern.compile(CLAUSE);

  /** Keys that are asked, and keys that are set; some are both. */
  private static final List<String> ASKED =
      List.of("ACTION", "KERNEL", "SUBSYSTEM", "SUBSYSTEMS", "ENV");

  private static final List<String> SET =
      List.of("GOTO", "LABEL", "GROUP", "MODE", "IMPORT", "SYMLINK", "ENV");

  @Test
  void everyLineIsMadeOfKeysOperatorsAndQuotedValues() throws IOException {
    for (String line : rules()) {
      assertTrue(LINE.matcher(line).matches(), line);
    }
  }

  @Test
  void everyKeyIsKnownAndAskedOrSetAsItMayBe() throws IOException {
    for (MatchResult clause : clauses()) {
      boolean isQuestion = clause.group(3).equals("==") || clause.group(3).equals("!=");
      List<String> allowed = isQuestion ? ASKED : SET;
      assertTrue(allowed.contains(clause.group(1)), clause.group());
    }
  }

  @Test
  void everyJumpLeadsToALabelFurtherDown() throws IOException {
    List<MatchResult> clauses = clauses();
    for (int index = 0; index < clauses.size(); index++) {
      if (clauses.get(index).group(1).equals("GOTO")) {
        String label = clauses.get(index).group(4);
        long labels =
            clauses.stream()
                .skip(index)
                .filter(later -> later.group(1).equals("LABEL") && later.group(4).equals(label))
                .count();
        assertEquals(1, labels, label);
      }
    }
  }

  @Test
  void everyAdapterIsNamedBySerialNumberAndByPathForTheDialoutGroup() throws IOException {
    List<String> lines = rules();

    assertTrue(lines.contains("GROUP=\"dialout\", MODE=\"0660\""));
    assertEquals(
        List.of("tappet/by-serial/$env{ID_SERIAL_SHORT}", "tappet/by-path/$env{ID_PATH}"),
        clauses().stream()
            .filter(clause -> clause.group(1).equals("SYMLINK"))
            .map(clause -> clause.group(4))
            .toList());
    assertTrue(lines.stream().anyMatch(line -> line.contains("ttyACM[0-9]*|ttyUSB[0-9]*")));
  }

  private static List<MatchResult> clauses() throws IOException {
    return rules().stream().flatMap(line -> ONE.matcher(line).results()).toList();
  }

  private static List<String> rules() throws IOException {
    try (Stream<String> lines = Files.lines(Path.of("../config/udev/60-tappet.rules"))) {
      return lines.filter(line -> !line.isBlank() && !line.startsWith("#")).toList();
    }
  }
}
