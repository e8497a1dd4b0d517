package tappet.bridge.replay;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import tappet.bridge.box.ProtectionText;
import tappet.bridge.box.SignalBox;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.Limits;
import tappet.bridge.journal.OwnerFile;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.bridge.record.Item;
import tappet.bridge.record.Scribe;
import tappet.bridge.record.SessionRecorder;
import tappet.bridge.rehearsal.Coverage;
import tappet.bridge.rehearsal.Onlooker;
import tappet.bridge.rehearsal.Rehearsal;
import tappet.bridge.rehearsal.Result;
import tappet.bridge.rehearsal.VirtualRailroad;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Step;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.lcc.AliasSeed;
import tappet.lcc.NodeId;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.simulator.scenario.Library;
import tappet.simulator.scenario.Names;
import tappet.simulator.scenario.Scenario;
import tappet.simulator.scenario.ScenarioReader;
import tappet.source.Problems;

/** Scenarios of the demo, recorded while they are rehearsed. */
public final class RecordedRehearsal implements Onlooker {

  public static final Path DEMO = Path.of("..", "config", "demo");

  /** The node of every rehearsal. */
  private static final NodeId NODE = NodeId.of("0A.57.00.00.00.01");

  private static final List<String> STOPPED =
      List.of("64-daemon-restarts.yaml", "65-power-goes-in-the-house.yaml");

  private final Scribe<?> recorder;
  private final Consumer<SignalBox> boxes;
  private final Deque<Long> unanswered = new ArrayDeque<>();

  private RecordedRehearsal(Scribe<?> recorder, Consumer<SignalBox> boxes) {
    this.recorder = recorder;
    this.boxes = boxes;
  }

  /** Runs a scenario of the demo, and writes it down at the end of a file. */
  public static Result record(String name, Path recording) throws IOException {
    return record(
        name, begin -> SessionRecorder.open(recording, "can0", begin, what -> {}), unused -> {});
  }

  /** Who is to take it down; asked what it begins with. */
  private interface Opening {
    Scribe<?> open(Item.Started begin) throws IOException;
  }

  /** Runs a scenario of the demo, and keeps it in a journal. */
  public static Result keep(String name, Path journal) throws IOException {
    OwnerFile layout = new OwnerFile("layout.yaml", Files.readString(DEMO.resolve("layout.yaml")));
    OwnerFile rules = new OwnerFile("rules.yaml", Files.readString(DEMO.resolve("rules.yaml")));
    AtomicReference<SignalBox> box = new AtomicReference<>();
    return record(
        name,
        begin ->
            Journal.open(
                journal,
                new Journal.Beginning(begin, layout, rules),
                Limits.USUAL,
                Journal.Clocks.usual(() -> box.get().minuteOfDay()),
                what -> {}),
        box::set);
  }

  private static Result record(String name, Opening opening, Consumer<SignalBox> boxes)
      throws IOException {
    Layout layout = layout();
    ControlTable table = table(Files.readString(DEMO.resolve("rules.yaml")));
    Scenario scenario = scenario(name, layout, table);
    Item.Started begin =
        new Item.Started(
            "0.1",
            layout.name(),
            NODE,
            AliasSeed.of(NODE),
            scenario
                .clock()
                .<ClockPlan>map(it -> new ClockPlan.Run(FastClock.FAST, it.rate(), it.time()))
                .orElseGet(ClockPlan.None::new),
            ProtectionText.of(KeptProtections.NONE));
    try (Scribe<?> recorder = opening.open(begin)) {
      RecordedRehearsal onlooker = new RecordedRehearsal(recorder, boxes);
      return Rehearsal.of(scenario, layout, table, onlooker, new Coverage(layout, table));
    }
  }

  public static Layout layout() throws IOException {
    Problems problems = new Problems();
    return LayoutReader.read("l", Files.readString(DEMO.resolve("layout.yaml")), problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }

  public static ControlTable table(String rules) throws IOException {
    Problems problems = new Problems();
    return RuleReader.read("r", rules, layout(), problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }

  private static Scenario scenario(String name, Layout layout, ControlTable table)
      throws IOException {
    Path file = DEMO.resolve("scenarios").resolve(name);
    return scenario(new Library.Text(file.toString(), Files.readString(file)), layout, table);
  }

  /** Rehearses a scenario that was written. */
  public static Result rehearse(String text) throws IOException {
    Layout layout = layout();
    ControlTable table = table(Files.readString(DEMO.resolve("rules.yaml")));
    return Rehearsal.of(
        scenario(new Library.Text("written.yaml", text), layout, table),
        layout,
        table,
        Onlooker.NONE,
        new Coverage(layout, table));
  }

  private static Scenario scenario(Library.Text text, Layout layout, ControlTable table) {
    Names names = new Names(layout, table.routes().keySet(), table.lines().keySet());
    Problems problems = new Problems();
    return ScenarioReader.read(text, RecordedRehearsal::include, names, problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }

  private static Optional<Library.Text> include(String from, String name) {
    try {
      Path path = Path.of(from).resolveSibling(name).normalize();
      return Optional.of(new Library.Text(path.toString(), Files.readString(path)));
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /**
   * Every scenario of the demo in which the daemon is not stopped, in order: what is recorded here
   * begins once.
   */
  public static List<String> all() throws IOException {
    try (var files = Files.list(DEMO.resolve("scenarios"))) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(".yaml"))
          .filter(name -> !STOPPED.contains(name))
          .sorted()
          .toList();
    }
  }

  @Override
  public void begins(VirtualRailroad railroad) {
    boxes.accept(railroad.box());
    railroad.box().tellToo(recorder);
    railroad.atEachAnswer(answer -> recorder.answered(unanswered.remove(), answer));
  }

  @Override
  public void tells(String sentence, long nowNs) {
    unanswered.add(recorder.told("the scenario", Optional.empty(), sentence, nowNs));
  }

  @Override
  public Optional<String> stepped(Step step, long nowNs) {
    return Optional.empty();
  }
}
