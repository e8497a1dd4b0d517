package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import tappet.bridge.record.Recording;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.bridge.rehearsal.RehearsalReport;
import tappet.bridge.rehearsal.Result;
import tappet.bridge.replay.Difference;
import tappet.bridge.replay.Outcome;
import tappet.bridge.replay.Replay;
import tappet.bridge.replay.ReplayReport;
import tappet.bridge.replay.ScenarioTeller;
import tappet.lcc.NodeId;
import tappet.simulator.scenario.Scenario;
import tappet.source.Place;
import tappet.source.Problems;

/** {@code tappet replay}. */
@Command(
    name = "replay",
    description = {
      "Has the box live through a recorded session once more, as fast as it can,",
      "and tells where it says anything else than it did then, and why."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:the box says what it said then",
      "1:it does not, or a file has a mistake",
      "2:the command was not understood"
    },
    mixinStandardHelpOptions = true)
final class ReplayCommand implements Callable<Integer> {

  private static final double US_PER_SECOND = 1e6;
  private static final double NS_PER_SECOND = 1e9;

  @Mixin private RailroadArguments files;

  @Parameters(
      index = "2",
      paramLabel = "RECORDING",
      description = "what the daemon has recorded, or a log of can-utils")
  private Path recording;

  @Option(
      names = "--tolerance",
      paramLabel = "MS",
      defaultValue = "100",
      description = "how far from its time an event may be said (default: ${DEFAULT-VALUE} ms)")
  private int toleranceMs;

  @Option(
      names = "--from",
      paramLabel = "SECONDS",
      defaultValue = "0",
      description = "tell differences from so long after a session's start on")
  private double fromSeconds;

  @Option(
      names = "--to",
      paramLabel = "SECONDS",
      defaultValue = "Infinity",
      description = "tell differences until so long after a session's start")
  private double toSeconds;

  @Option(
      names = "--session",
      paramLabel = "NUMBER",
      description = "only what came after that start of the daemon, from 1 (default: all)")
  private Optional<Integer> sessionNumber;

  @Option(
      names = "--scenario",
      paramLabel = "FILE",
      description = {
        "writes a session as a scenario, and rehearses it; with --from it begins at the",
        "last moment before that at which nothing was lined and nobody protected"
      })
  private Optional<Path> scenario;

  @Option(
      names = "--node",
      paramLabel = "ID",
      description = "the daemon's node id, where a log does not make clear who it was")
  private Optional<String> node;

  /**
   * What is replayed.
   *
   * @param daemon who it was, where the owner says so
   */
  private record Given(OwnerFiles.Railroad railroad, Recording recorded, Optional<NodeId> daemon) {}

  @Override
  public Integer call() throws IOException {
    return FileCheck.exitStatus(System.out, this::read, this::replay);
  }

  private Optional<Given> read(Problems problems) {
    Optional<OwnerFiles.Railroad> railroad = files.read(problems);
    Optional<Recording> recorded = RecordingReader.read(recording, problems);
    Optional<NodeId> daemon = node.flatMap(id -> nodeId(id, problems));
    return railroad.flatMap(read -> recorded.map(log -> new Given(read, log, daemon)));
  }

  private int replay(Given given) throws IOException {
    given.recorded().remarks().forEach(remark -> System.out.println("note: " + remark));
    List<Session> sessions = chosen(given.recorded().sessions());
    if (sessions.isEmpty() || (scenario.isPresent() && sessions.size() > 1)) {
      askWhich(given.recorded().sessions().size());
      return 1;
    }
    boolean same = true;
    for (Session session : sessions) {
      same &= replay(session, given.railroad(), given.daemon());
    }
    return same ? 0 : 1;
  }

  private void askWhich(int count) {
    System.out.printf(
        "%s has %s; say which with --session%n",
        recording, count == 1 ? "one session, number 1" : "sessions 1 to " + count);
  }

  private List<Session> chosen(List<Session> sessions) {
    return sessionNumber
        .map(
            number ->
                sessions.stream().skip(Math.max(0, number - 1L)).limit(number < 1 ? 0 : 1).toList())
        .orElse(sessions);
  }

  private static Optional<NodeId> nodeId(String id, Problems problems) {
    try {
      return Optional.of(NodeId.of(id));
    } catch (IllegalArgumentException e) {
      problems.add(
          Place.inText("--node", 1), e.getMessage(), "write one such as 02.01.57.00.00.01");
      return Optional.empty();
    }
  }

  private boolean replay(Session session, OwnerFiles.Railroad railroad, Optional<NodeId> daemon)
      throws IOException {
    Replay.Order order =
        new Replay.Order(
            session, railroad.layout(), railroad.table(), Duration.ofMillis(toleranceMs), daemon);
    long beganNs = System.nanoTime();
    try {
      Outcome outcome = scenario.isPresent() ? tell(order) : Replay.of(order);
      List<Difference> shown =
          outcome.differences().stream().filter(each -> isShown(each, outcome)).toList();
      System.out.print(ReplayReport.text(recording.toString(), outcome, shown));
      tellPace(outcome, System.nanoTime() - beganNs);
      boolean same = outcome.compared() && shown.isEmpty();
      return scenario.isPresent() ? rehearse(railroad) && same : same;
    } catch (Replay.Impossible e) {
      System.out.println(new Place(recording.toString(), e.line(), 1) + ": " + e.getMessage());
      return false;
    }
  }

  private Outcome tell(Replay.Order order) throws Replay.Impossible, IOException {
    ScenarioTeller.Told told =
        ScenarioTeller.tell(
            "Recorded in " + recording.getFileName(),
            order,
            new ScenarioTeller.Part(us(fromSeconds), us(toSeconds)));
    Files.writeString(scenario.orElseThrow(), told.text());
    return told.outcome();
  }

  private static long us(double seconds) {
    return (long) (seconds * US_PER_SECOND);
  }

  /** What is written is worth something only if it goes as it says. */
  private boolean rehearse(OwnerFiles.Railroad railroad) {
    Problems problems = new Problems();
    List<Scenario> scenarios =
        new ScenarioFiles(problems).read(List.of(scenario.orElseThrow()), railroad);
    problems.sorted().forEach(System.out::println);
    boolean passed = problems.none();
    for (Scenario written : scenarios) {
      Result result = railroad.rehearse(written, railroad.coverage());
      System.out.print(RehearsalReport.text(result));
      passed &= result.passed();
    }
    return passed;
  }

  private boolean isShown(Difference difference, Outcome outcome) {
    double seconds = (difference.timeUs() - outcome.beganUs()) / US_PER_SECOND;
    return seconds >= fromSeconds && seconds <= toSeconds;
  }

  private static void tellPace(Outcome outcome, long tookNs) {
    double seconds = tookNs / NS_PER_SECOND;
    System.out.printf(
        Locale.ROOT,
        "replayed in %.3f s: %.0f frames and requests a second%n",
        seconds,
        outcome.inputs() / seconds);
  }
}
