package tappet.bridge;

import java.io.IOException;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import tappet.interlocking.Assumptions;

/** {@code tappet check}. */
@Command(
    name = "check",
    description = {
      "Checks a layout and its rules, and tells every mistake of both files.",
      "What the rules say of the layout is judged once the layout itself is right."
    },
    mixinStandardHelpOptions = true)
final class CheckCommand implements Callable<Integer> {

  @Mixin private RailroadArguments files;

  @Override
  public Integer call() throws IOException {
    return FileCheck.exitStatus(System.out, files::read, CheckCommand::tellSize);
  }

  private static int tellSize(OwnerFiles.Railroad railroad) {
    var layout = railroad.layout();
    System.out.printf(
        "%s: %d sections, %d switches, %d signals, %d routes, no mistakes%n",
        layout.name(),
        layout.sections().size(),
        layout.switches().size(),
        layout.signals().size(),
        railroad.table().routes().size());
    Assumptions.of(layout).forEach(assumption -> System.out.println("assumed: " + assumption));
    return 0;
  }
}
