package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RuleReader;
import tappet.source.Problems;
import tappet.source.WrongFiles;

/** Wrong rule files for the layout of the demo, each beside everything that is to be said of it. */
class WrongRulesTest {

  private static final WrongFiles FILES = WrongFiles.inResources("wrong-rules", "rules");

  static List<Path> wrongFiles() throws IOException {
    return FILES.all();
  }

  // D.3, load-time checks 1, 2, 3, 4, 6 and 7.
  @ParameterizedTest
  @MethodSource("wrongFiles")
  void everyMistakeIsToldAsExpected(Path file) throws IOException {
    var layout = Desk.Railroad.DEMO.layout();
    var problems = new Problems();
    var text = Files.readString(file);
    var usable =
        RuleReader.read(file.getFileName().toString(), text, layout, problems)
            .flatMap(table -> Compiled.of(layout, table, problems));
    assertFalse(usable.isPresent());
    FILES.compare(file, problems.sorted());
  }

  @Test
  void everyExpectationHasItsFile() throws IOException {
    FILES.requireTwins();
  }
}
