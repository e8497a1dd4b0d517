package tappet.bridge;

import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.Parameters;
import tappet.source.Problems;

/** The layout and its rules, the first two arguments of every command that is about them. */
final class RailroadArguments {

  @Parameters(index = "0", paramLabel = "LAYOUT", description = "the layout file")
  private Path layout;

  @Parameters(index = "1", paramLabel = "RULES", description = "the rule file")
  private Path rules;

  /** Reads both. */
  Optional<OwnerFiles.Railroad> read(Problems problems) {
    return new OwnerFiles(problems).railroad(layout, rules);
  }
}
