package tappet.bridge;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import tappet.bridge.box.Tempo;

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

  @Option(
      names = "--session",
      description = {
        "let trains run by the train list session.yaml beside the settings,",
        "with a dispatcher who lines their routes"
      })
  private boolean session;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description = "decides small delays in the session (default: 1)")
  private long seed;

  @Option(
      names = "--speed",
      paramLabel = "N",
      defaultValue = "1",
      description = {
        "let the railroad's time go by so many times as fast, at most " + Tempo.SPEED_MAX + ",",
        "where all of it is simulated (default: 1)"
      })
  private int speed;

  @Spec private CommandSpec spec;

  /** How people call this program where it is installed; the launcher knows. */
  private static final String TAPPET = System.getProperty("tappet.command", "tappet");

  @Override
  public Integer call() throws IOException {
    if (speed < 1 || speed > Tempo.SPEED_MAX) {
      throw new ParameterException(
          spec.commandLine(),
          "the railroad runs 1 to %d times as fast, not %d".formatted(Tempo.SPEED_MAX, speed));
    }
    tellWhatToTry();
    return new Service(config, seconds, false, session(), Tempo.times(speed)).run();
  }

  private Optional<Service.Held> session() {
    return session
        ? Optional.of(new Service.Held(config.resolveSibling("session.yaml"), seed))
        : Optional.empty();
  }

  private void tellWhatToTry() {
    if (session) {
      System.out.printf(
          """
          A day on the Ambrose Valley Line, simulated. In another terminal, see it go by:

            %s watch

          """,
          TAPPET);
      return;
    }
    System.out.printf(
        """
        The Ambrose Valley Line, simulated. In another terminal, try:

          %1$s tell "line f2e to t2e"
          %1$s tell "run 'Extra 41'"
          %1$s why t2e
          %1$s watch

        """,
        TAPPET);
  }
}
