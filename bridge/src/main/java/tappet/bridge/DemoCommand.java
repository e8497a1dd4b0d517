package tappet.bridge;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code tappet demo}. */
@Command(
    name = "demo",
    description = "Runs the daemon on the simulated Ambrose Valley Line.",
    mixinStandardHelpOptions = true)
final class DemoCommand implements Callable<Integer> {

  @Option(
      names = "--config",
      paramLabel = "FILE",
      defaultValue = "${sys:tappet.home:-.}/config/demo/tappet.yaml",
      description = "the demo's settings file")
  private Path config;

  @Option(
      names = "--for",
      paramLabel = "SECONDS",
      defaultValue = "0",
      description = "end by itself after so many seconds (default: run until stopped)")
  private long seconds;

  @Override
  public Integer call() {
    System.out.print(
        """
        The Ambrose Valley Line, simulated. In another terminal, try:

          bridge/bin/tappet tell "line f2e to t2e"
          bridge/bin/tappet tell "run 'Extra 41'"
          bridge/bin/tappet why t2e
          bridge/bin/tappet watch

        """);
    return new Service(config, seconds, false).run();
  }
}
