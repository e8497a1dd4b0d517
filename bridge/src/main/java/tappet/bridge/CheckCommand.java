package tappet.bridge;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;
import tappet.interlocking.Assumptions;
import tappet.source.Problems;

/** {@code tappet check}. */
@Command(
    name = "check",
    description = {
      "Checks a layout and its rules, and tells every mistake of both files.",
      "What the rules say of the layout is judged once the layout itself is right."
    },
    mixinStandardHelpOptions = true)
final class CheckCommand implements Callable<Integer> {

  @Parameters(index = "0", paramLabel = "LAYOUT", description = "the layout file")
  private Path layout;

  @Parameters(index = "1", paramLabel = "RULES", description = "the rule file")
  private Path rules;

  @Override
  public Integer call() {
    Problems problems = new Problems();
    Optional<OwnerFiles.Railroad> railroad = new OwnerFiles(problems).railroad(layout, rules);
    problems.sorted().forEach(System.out::println);
    railroad.ifPresent(CheckCommand::tellSize);
    return railroad.isPresent() ? 0 : 1;
  }

  private static void tellSize(OwnerFiles.Railroad railroad) {
    var layout = railroad.layout();
    System.out.printf(
        "%s: %d sections, %d switches, %d signals, %d routes, no mistakes%n",
        layout.name(),
        layout.sections().size(),
        layout.switches().size(),
        layout.signals().size(),
        railroad.table().routes().size());
    Assumptions.of(layout).forEach(assumption -> System.out.println("assumed: " + assumption));
  }
}
