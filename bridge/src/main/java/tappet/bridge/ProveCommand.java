package tappet.bridge;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;
import tappet.interlocking.Interlocking;
import tappet.proof.Finding;
import tappet.proof.Prover;
import tappet.proof.Watched;
import tappet.proof.track.SafetyProperties;
import tappet.source.Problems;

/** {@code tappet prove}. */
@Command(
    name = "prove",
    description = {
      "Proves that no order of trains, requests and failures makes the rules unsafe on this layout,",
      "or tells the shortest story in which they are."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:every property is proven",
      "1:a property is disproven, or a file has a mistake",
      "2:the command was not understood",
      "3:nothing is disproven, and something is not proven"
    },
    mixinStandardHelpOptions = true)
final class ProveCommand implements Callable<Integer> {

  @Parameters(index = "0", paramLabel = "LAYOUT", description = "the layout file")
  private Path layout;

  @Parameters(index = "1", paramLabel = "RULES", description = "the rule file")
  private Path rules;

  @Override
  public Integer call() {
    Problems problems = new Problems();
    Optional<OwnerFiles.Railroad> railroad = new OwnerFiles(problems).railroad(layout, rules);
    problems.sorted().forEach(System.out::println);
    return railroad.map(ProveCommand::prove).orElse(1);
  }

  private static int prove(OwnerFiles.Railroad railroad) {
    Interlocking interlocking = new Interlocking(railroad.layout(), railroad.table());
    Watched watched = SafetyProperties.of(railroad.layout(), interlocking.network());
    ProofReport report = new ProofReport(findings(watched), watched.assumptions());
    System.out.print(report.text());
    return report.exitStatus();
  }

  /** The bar goes to the error stream: the report can be kept without it. */
  private static List<Finding> findings(Watched watched) {
    try (ProgressBar bar =
        new ProgressBarBuilder()
            .setTaskName("states")
            .setInitialMax(1)
            .setStyle(ProgressBarStyle.ASCII)
            .build()) {
      return Prover.prove(
          watched,
          (work, done, of) -> {
            bar.setExtraMessage(work);
            bar.maxHint(of);
            bar.stepTo(done);
          });
    }
  }
}
