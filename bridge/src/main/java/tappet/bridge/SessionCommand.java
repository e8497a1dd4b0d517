package tappet.bridge;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import tappet.bridge.rehearsal.SafetyOnlooker;
import tappet.bridge.session.Journal;
import tappet.bridge.session.Session;
import tappet.bridge.session.SessionPlan;
import tappet.bridge.session.VirtualSession;
import tappet.source.Problems;

/** {@code tappet session}. */
@Command(
    name = "session",
    description = {
      "Runs a whole operating session offline: trains by a train list, a dispatcher who lines",
      "their routes with the box that runs the layout, crews who work, the fast clock running."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:every train that began has arrived, and nothing went wrong",
      "1:one has not, something went wrong, or a file has a mistake",
      "2:the command was not understood"
    },
    mixinStandardHelpOptions = true)
final class SessionCommand implements Callable<Integer> {

  private static final double HOURS_MAX = 24 * 366;
  private static final double MS_PER_HOUR = 3_600_000;

  @Mixin private RailroadArguments files;

  @Parameters(index = "2", paramLabel = "TRAINS", description = "the train list")
  private Path trains;

  @Option(
      names = "--hours",
      paramLabel = "N",
      defaultValue = "6",
      description = {
        "how long the railroad runs, in hours of its own time (default: 6);",
        "trains that have begun by then run on to their ends"
      })
  private double hours;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description = {
        "decides small delays of crews and the order of equal wishes (default: 1);",
        "the same seed gives the same session"
      })
  private long seed;

  @Option(
      names = "--journal",
      paramLabel = "FILE",
      description = "writes down all that happens, a line each")
  private Optional<Path> journal;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    if (!(hours > 0 && hours <= HOURS_MAX)) {
      throw new ParameterException(
          spec.commandLine(), "a session takes more than 0 and at most 8784 hours, not " + hours);
    }
    return FileCheck.exitStatus(System.out, this::plan, this::run);
  }

  private Optional<SessionPlan> plan(Problems problems) {
    return files
        .read(problems)
        .flatMap(railroad -> new SessionFiles(problems).plan(railroad, trains));
  }

  private int run(SessionPlan plan) throws IOException {
    try (Writer out =
        journal.isPresent() ? Files.newBufferedWriter(journal.get()) : Writer.nullWriter()) {
      Session session =
          new VirtualSession(plan, new SafetyOnlooker(), new Journal(out), seed)
              .run(Duration.ofMillis((long) (hours * MS_PER_HOUR)));
      System.out.print(session.report());
      return session.wentWell() ? 0 : 1;
    }
  }
}
