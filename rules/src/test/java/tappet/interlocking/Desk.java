package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.network.Explanation;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.RuleReader;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * A dispatcher's desk before an interlocking whose field is played by the test. Time passes only
 * when it is told to. Switches follow what they are sent, unless they are stuck.
 */
final class Desk {

  static final long NS_PER_SECOND = 1_000_000_000L;

  /** Longer than any loss-of-shunt time in these tests. */
  private static final double STEADY_SECONDS = 2.5;

  private record Arrival(Position position, long atNs) {}

  Layout layout;
  ControlTable table;
  Interlocking interlocking;
  private final Map<String, String> shown = new LinkedHashMap<>();
  private final Map<String, Position> lying = new LinkedHashMap<>();
  private final Map<String, Arrival> arrivals = new LinkedHashMap<>();
  private final Set<String> stuck = new LinkedHashSet<>();
  private final List<Output> outputs = new ArrayList<>();
  private final List<String> changes = new ArrayList<>();
  private Moment moment = Moment.UNKNOWN;
  private long throwNs = NS_PER_SECOND;
  private long nowNs;

  private Desk(
      Layout layout, ControlTable table, KeptProtections kept, Map<String, String> releases) {
    this.layout = layout;
    this.table = table;
    this.interlocking = new Interlocking(layout, table);
    interlocking.restore(kept);
    interlocking.restoreReleases(releases);
    take(interlocking.start(nowNs));
  }

  /** A railroad as its two files describe it. */
  record Railroad(Layout layout, ControlTable table) {

    /** The Ambrose Valley Line with plain routes only, each lined by the dispatcher. */
    static final Railroad DEMO = read(plain("layout.yaml"), plain("rules.yaml"));

    /** The Ambrose Valley Line of config/demo, with all that it has grown. */
    static final Railroad GROWN = read(config("demo/layout.yaml"), config("demo/rules.yaml"));

    /** The station with one switch of config/starter. */
    static final Railroad STARTER =
        read(config("starter/layout.yaml"), config("starter/rules.yaml"));

    static Railroad read(String layoutText, String rulesText) {
      var problems = new Problems();
      var layout = LayoutReader.read("layout.yaml", layoutText, problems);
      var table = layout.flatMap(plan -> RuleReader.read("rules.yaml", rulesText, plan, problems));
      assertEquals(List.of(), problems.sorted());
      return new Railroad(layout.orElseThrow(), table.orElseThrow());
    }
  }

  /** A desk just started: nothing is known and nothing granted. */
  static Desk started(Railroad railroad) {
    return restarted(railroad, KeptProtections.NONE);
  }

  /** A desk just started, where people were protected before. */
  static Desk restarted(Railroad railroad, KeptProtections kept) {
    return new Desk(railroad.layout(), railroad.table(), kept, Map.of());
  }

  /** A desk just started, where hand-thrown switches were released before. */
  static Desk withReleases(Railroad railroad, Map<String, String> releases) {
    return new Desk(railroad.layout(), railroad.table(), KeptProtections.NONE, releases);
  }

  /** A desk in daily use: everything clear, every switch normal, the start time run. */
  static Desk ready(Railroad railroad) {
    var desk = started(railroad);
    desk.allClear();
    desk.pass(desk.table.times().start());
    return desk;
  }

  /** The same, of files given as text. */
  static Desk ready(String layoutText, String rulesText) {
    return ready(Railroad.read(layoutText, rulesText));
  }

  /** The Ambrose Valley Line in daily use. */
  static Desk demo() {
    return ready(Railroad.DEMO);
  }

  /** The station with one switch in daily use. */
  static Desk starter() {
    return ready(Railroad.STARTER);
  }

  static String config(String file) {
    return text(Path.of("..", "config").resolve(file));
  }

  static String plain(String file) {
    return text(Path.of("..", "shared", "src", "test", "resources", "plain").resolve(file));
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Every section reports clear, every switch normal, and every electric lock secured. */
  void allClear() {
    layout.sections().keySet().forEach(this::clear);
    layout.switches().values().stream()
        .filter(Switch::isDetected)
        .forEach(toe -> lies(toe.id(), Position.NORMAL));
    layout.switches().values().stream()
        .filter(toe -> toe.lock().isPresent())
        .forEach(toe -> lock(toe.id(), LockState.SECURED));
    layout.signals().values().forEach(this::allLampsWork);
  }

  private void allLampsWork(Signal signal) {
    signal
        .lights()
        .ifPresent(lights -> lights.provings().forEach(lamp -> lamp(signal.id(), lamp.id(), true)));
  }

  /** A signal's board tells that a lamp works, or has failed. */
  void lamp(String signal, String lamp, boolean works) {
    take(interlocking.step(new Input.LampReport(signal, lamp, Optional.of(works)), nowNs));
  }

  /** Nothing is known of a lamp any more. */
  void lampUnknown(String signal, String lamp) {
    take(interlocking.step(new Input.LampReport(signal, lamp, Optional.empty()), nowNs));
  }

  void occupy(String section) {
    report(section, Occupancy.OCCUPIED);
  }

  void clear(String section) {
    report(section, Occupancy.CLEAR);
  }

  void unknown(String section) {
    report(section, Occupancy.UNKNOWN);
  }

  /** Anyone on the bus calls an emergency, or clears it. */
  void emergency(Emergency kind, boolean stands) {
    take(interlocking.step(new Input.EmergencyReport(kind, stands), nowNs));
  }

  /** The fast clock shows a time, or none that is known. */
  void clock(OptionalInt minuteOfDay) {
    take(interlocking.step(new Input.ClockReport(minuteOfDay), nowNs));
  }

  /** The field reports anything else. */
  void hears(Input input) {
    take(interlocking.step(input, nowNs));
  }

  private void report(String section, Occupancy occupancy) {
    take(interlocking.step(new Input.SectionReport(section, occupancy), nowNs));
  }

  void lies(String switchId, Position position) {
    lying.put(switchId, position);
    detect(switchId, Optional.of(position));
  }

  /** The switch is detected in neither position. */
  void moving(String switchId) {
    lying.remove(switchId);
    detect(switchId, Optional.empty());
  }

  /** An electric lock reports. */
  void lock(String switchId, LockState state) {
    take(interlocking.step(new Input.LockReport(switchId, Optional.of(state)), nowNs));
  }

  /** The board of an electric lock is lost. */
  void lockUnknown(String switchId) {
    take(interlocking.step(new Input.LockReport(switchId, Optional.empty()), nowNs));
  }

  /** A person asks at the control of a switch beside the track. */
  void ask(String switchId, Position position) {
    take(interlocking.step(new Input.SwitchAsked(switchId, position), nowNs));
  }

  /** The board of a switch without detection is lost. */
  void forget(String switchId) {
    detect(switchId, Optional.empty());
  }

  private void detect(String switchId, Optional<Position> position) {
    take(interlocking.step(new Input.SwitchReport(switchId, position), nowNs));
  }

  /** From now on the switch stays as it is, whatever it is sent. */
  void stuck(String switchId) {
    stuck.add(switchId);
  }

  /** From now on the switch follows again. */
  void freed(String switchId) {
    stuck.remove(switchId);
  }

  /** From now on what is asked is asked at this moment. */
  void at(Moment now) {
    moment = now;
  }

  void throwTime(double seconds) {
    throwNs = ns(seconds);
  }

  /** What a dispatcher types. */
  Answer tell(String sentence) {
    var problems = new Problems();
    var command = Sentences.command(sentence, new Place("desk", 1, 1), problems);
    assertEquals(List.of(), problems.sorted());
    var step = interlocking.step(new Input.Request(command.orElseThrow(), moment), nowNs);
    var answer = step.answer().orElseThrow();
    take(step);
    return answer;
  }

  /** New files take the place of the old, or do not; answers what stands against it. */
  List<String> reload(Railroad files) {
    var after = new Interlocking(files.layout(), files.table());
    var attempt = new Succession(interlocking, after).attempt(interlocking, nowNs);
    attempt
        .step()
        .ifPresent(
            step -> {
              layout = files.layout();
              table = files.table();
              interlocking = after;
              take(step);
            });
    return attempt.against().stream().map(Succession.Reason::toString).toList();
  }

  /** Tells what must be granted. */
  void order(String sentence) {
    var answer = tell(sentence);
    assertTrue(answer.granted(), answer.explanation()::text);
  }

  /** Tells what must be refused; answers why. */
  String refused(String sentence) {
    var answer = tell(sentence);
    assertFalse(answer.granted(), answer.explanation()::text);
    return answer.explanation().text();
  }

  /** Lines a route and waits until its switches have come to lie. */
  void line(RouteRow route) {
    order("line " + route.from() + " to " + route.to());
    pass(throwNs);
  }

  void pass(double seconds) {
    pass(ns(seconds));
  }

  void pass(Duration duration) {
    pass(duration.toNanos());
  }

  private void pass(long ns) {
    long endNs = nowNs + ns;
    for (long next = nextNs(); next <= endNs; next = nextNs()) {
      nowNs = next;
      take(interlocking.advance(nowNs));
      switchesArrive();
    }
    nowNs = endNs;
    take(interlocking.advance(nowNs));
  }

  private long nextNs() {
    long arrival = arrivals.values().stream().mapToLong(Arrival::atNs).min().orElse(Long.MAX_VALUE);
    return Math.min(arrival, interlocking.deadlineNs().orElse(Long.MAX_VALUE));
  }

  private void switchesArrive() {
    var due = arrivals.entrySet().stream().filter(entry -> entry.getValue().atNs() <= nowNs);
    for (var arrived : due.toList()) {
      arrivals.remove(arrived.getKey());
      lies(arrived.getKey(), arrived.getValue().position());
    }
  }

  /** A train shorter than a section runs over {@code sections} and stays in the last of them. */
  void runs(String... sections) {
    occupy(sections[0]);
    for (int ahead = 1; ahead < sections.length; ahead++) {
      moves(sections[ahead - 1], sections[ahead]);
    }
  }

  /** Its front enters the next section before its rear leaves the one before. */
  void moves(String from, String to) {
    occupy(to);
    pass(1.0);
    clear(from);
    pass(STEADY_SECONDS);
  }

  /** Long enough that a section that has just become clear counts as vacant. */
  void steady() {
    pass(STEADY_SECONDS);
  }

  /** The aspect that the field was last told. */
  String shows(String signal) {
    assertEquals(shown.get(signal), interlocking.aspect(signal));
    return shown.get(signal);
  }

  boolean proceeds(String signal) {
    return !shows(signal).equals(Signal.STOP);
  }

  boolean locked(String route) {
    return interlocking.routeLocked(route);
  }

  /** Where the field has brought a switch; empty while it moves. */
  Optional<Position> lie(String switchId) {
    return Optional.ofNullable(lying.get(switchId));
  }

  /** Whether a dispatcher who throws the switch is refused; a granted one is thrown back. */
  boolean holds(String switchId) {
    var now = lie(switchId).orElse(Position.NORMAL);
    boolean held = !tell("throw " + switchId + " " + now.opposite().word()).granted();
    if (!held) {
      pass(throwNs);
      order("throw " + switchId + " " + now.word());
      pass(throwNs);
    }
    return held;
  }

  /** What switches were sent since this was last asked, such as {@code t1 reverse}. */
  List<String> movements() {
    var movements =
        outputs.stream()
            .flatMap(output -> output instanceof Output.Throw sent ? Stream.of(sent) : null)
            .map(sent -> sent.switchId() + " " + sent.position().word())
            .toList();
    outputs.clear();
    return movements;
  }

  /** Everything the field has been told so far. */
  List<Output> outputs() {
    return List.copyOf(outputs);
  }

  /** What people have been told since this was last asked. */
  List<String> changes() {
    var told = List.copyOf(changes);
    changes.clear();
    return told;
  }

  String why(String name) {
    return interlocking.why(name, nowNs).map(Explanation::text).orElseThrow();
  }

  RouteRow route(String id) {
    return table.routes().get(id);
  }

  /** Signals that show something better than stop. */
  List<String> proceeding() {
    return shown.keySet().stream().filter(this::proceeds).collect(Collectors.toList());
  }

  private void take(Step step) {
    outputs.addAll(step.outputs());
    changes.addAll(step.changes());
    for (Output output : step.outputs()) {
      if (output instanceof Output.Show show) {
        shown.put(show.signal(), show.aspect());
      } else if (output instanceof Output.Throw sent) {
        moved(sent).forEach(id -> follow(id, sent.position()));
      } else if (output instanceof Output.Lock lock && !stuck.contains(lock.switchId())) {
        lock(lock.switchId(), lock.state());
      }
    }
  }

  /** The switch that is sent, and the ends that move with it, as far as they are detected. */
  private List<String> moved(Output.Throw sent) {
    return layout.switches().values().stream()
        .filter(toe -> toe.id().equals(sent.switchId()) || toe.number().equals(sent.switchId()))
        .filter(Switch::isDetected)
        .map(Switch::id)
        .toList();
  }

  private void follow(String id, Position position) {
    boolean there = lie(id).equals(Optional.of(position));
    if (stuck.contains(id) || there) {
      return;
    }
    arrivals.put(id, new Arrival(position, nowNs + throwNs));
    moving(id);
  }

  private static long ns(double seconds) {
    return Math.round(seconds * NS_PER_SECOND);
  }
}
