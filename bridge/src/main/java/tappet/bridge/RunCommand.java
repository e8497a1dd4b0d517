package tappet.bridge;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code tappet run}. */
@Command(
    name = "run",
    description = "Runs the daemon with the settings of a file.",
    mixinStandardHelpOptions = true)
final class RunCommand implements Callable<Integer> {

  @Option(
      names = "--config",
      required = true,
      paramLabel = "FILE",
      description = "the settings file, such as /etc/tappet/tappet.yaml")
  private Path config;

  @Option(
      names = "--even-if-disproven",
      description = {
        "run rules that were found to be unsafe; an alarm says so on every screen",
        "for as long as they run"
      })
  private boolean evenIfDisproven;

  @Override
  public Integer call() throws IOException {
    return new Service(config, Service.WITHOUT_END, evenIfDisproven).run();
  }
}
