package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.measure.GeneratedLine;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * Anything may be reported and anything asked, at any time. What must never be is written from the
 * layout and the reports alone; of the rules only what is kept clear beyond a way is read here.
 */
class RandomOperationTest {

  /** For the grown demo, some of whose signals seldom proceed; a fifth of them for the others. */
  private static final int STEPS = Integer.getInteger("steps", 1_000_000);

  private static final long SEED = Long.getLong("seed", 20_261_125L);

  /** Only so many steps are written down: a million would fill the memory. */
  private static final int JOURNAL_STEPS = 5_000;

  /** Where signalled track ends without a signal: the yard beyond is run at sight. */
  private static final Predicate<String> IS_YARD_LIMIT =
      Pattern.compile("j15(-\\d+)?").asMatchPredicate();

  /** What people ask of the demo besides routes and switches. */
  private static final List<String> SENTENCES =
      List.of(
          "call on c2e to mill-end",
          "fleet f2e to t2e",
          "fleet t4e to m2e",
          "unfleet f2e",
          "stack t6e to m2e",
          "stack c6w to m2w",
          "unstack c6w",
          "set traffic midway east",
          "set traffic midway west",
          "release q1",
          "secure q1",
          "release y1 to 'Yard crew'",
          "secure y1",
          "unlock doorway",
          "lock doorway",
          "lock doorway",
          "flag creamery by 'Plant crew'",
          "unflag creamery by 'Plant crew'",
          "grant permit to 'Way Freight' on mill-branch, mill-os",
          "return permit of 'Way Freight'",
          "throw cr1 normal for 'Way Freight'",
          "throw cr1 reverse for 'Way Freight'",
          "block signal t4e for 'Section crew'",
          "unblock signal t4e",
          "block switch t2 for 'Section crew'",
          "unblock switch t2",
          "block section west-main for 'Section crew'",
          "unblock section west-main");

  /** Those that give back; asked for more often, so that the railroad is not at a stand. */
  private static final List<String> ENDING =
      SENTENCES.stream()
          .filter(
              sentence -> sentence.matches("(un(flag|block|stack|fleet)|return|secure|lock) .*"))
          .toList();

  static List<Desk.Railroad> railroads() {
    var generated = new GeneratedLine(2);
    var layout = generated.layout();
    return List.of(
        Desk.Railroad.DEMO,
        Desk.Railroad.GROWN,
        Between.OVERLAPPED,
        new Desk.Railroad(layout, generated.table(layout)));
  }

  // F.1 S3, S4, S5, S6, S8, S13; H.18: each signal proceeds at some time.
  @ParameterizedTest
  @MethodSource("railroads")
  void railroadIsSafeWhateverIsReportedAndAsked(Desk.Railroad railroad) {
    System.out.println("random operation with -Dseed=" + SEED + " -Dsteps=" + STEPS);
    var run = new Run(SEED, railroad);
    int steps = run.grown ? STEPS : STEPS / 5;
    for (int step = 0; step < steps; step++) {
      run.step();
    }
    assertEquals(run.layout.signals().keySet(), new HashSet<>(run.hasProceeded));
    assertTrue(run.moved > 1_000, () -> "only " + run.moved + " switches sent");
  }

  // The same inputs give the same outputs, always.
  @Test
  void sameInputsGiveTheSameOutputs() {
    var one = new Run(SEED + 1, Desk.Railroad.GROWN);
    var other = new Run(SEED + 1, Desk.Railroad.GROWN);
    for (int step = 0; step < JOURNAL_STEPS; step++) {
      one.step();
      other.step();
    }
    assertFalse(one.journal.isEmpty());
    assertEquals(one.journal, other.journal);
  }

  private static final class Run {

    private static final Place DESK = new Place("desk", 1, 1);

    private final Layout layout;
    private final ControlTable table;
    private final TrackPlan plan;
    private final WayAhead way;
    private final List<String> sections;
    private final List<Switch> switches;
    private final List<Signal> signals;
    private final List<String> ends;
    private final boolean grown;
    private final Random random;
    private final Interlocking interlocking;

    private final Map<String, Occupancy> reported = new LinkedHashMap<>();
    private final Map<String, Position> detected = new LinkedHashMap<>();
    private final Map<String, String> shown = new LinkedHashMap<>();

    /** By district: whether it is known to have power. */
    private final Map<String, Boolean> power = new LinkedHashMap<>();

    private boolean closed = true;
    private final Set<String> hasProceeded = new TreeSet<>();
    private final List<String> journal = new ArrayList<>();
    private int moved;
    private int stepsTaken;
    private long nowNs;
    private String last = "start";

    Run(long seed, Desk.Railroad railroad) {
      this.random = new Random(seed);
      this.layout = railroad.layout();
      this.table = railroad.table();
      this.plan = new TrackPlan(layout);
      this.way = new WayAhead(plan, IS_YARD_LIMIT, (track, from) -> isOpen(track), this::require);
      this.sections = List.copyOf(layout.sections().keySet());
      this.switches = List.copyOf(layout.switches().values());
      this.signals = List.copyOf(layout.signals().values());
      this.ends = new ArrayList<>(layout.signals().keySet());
      this.grown = !layout.lineside().devices().isEmpty();
      this.interlocking = new Interlocking(layout, table);
      layout.joints().keySet().stream()
          .filter(joint -> plan.sides(joint).size() == 1)
          .forEach(ends::add);
      layout.joints().keySet().stream().filter(IS_YARD_LIMIT).forEach(ends::add);
      check(interlocking.start(nowNs));
      sections.forEach(id -> report(id, Occupancy.CLEAR));
      switches.forEach(toe -> detect(toe.id(), Optional.of(Position.NORMAL)));
      if (grown) {
        everyDeviceIsInOrder();
      }
    }

    private void everyDeviceIsInOrder() {
      layout.lineside().districts().keySet().forEach(id -> tripped(id, Optional.of(false)));
      layout.lineside().openings().keySet().forEach(this::isClosedAndLocked);
      switches.stream()
          .filter(toe -> toe.lock().isPresent())
          .forEach(
              toe -> {
                detect(toe.id(), Optional.of(Position.NORMAL));
                take(new Input.LockReport(toe.id(), Optional.of(LockState.SECURED)));
              });
    }

    private void tripped(String district, Optional<Boolean> trips) {
      power.put(district, trips.isPresent() && !trips.get());
      take(new Input.DistrictReport(district, trips));
    }

    private void isClosedAndLocked(String opening) {
      closed = true;
      take(new Input.OpeningReport(opening, Optional.of(true)));
      take(new Input.BoltReport(opening, Optional.of(true)));
    }

    /** Mostly what mends; now and then a breaker trips, the doorway opens, a lock gives way. */
    private void deviceReports() {
      switch (random.nextInt(60)) {
        case 0 -> tripped(any(List.of("west", "east")), Optional.of(true));
        case 1 -> tripped(any(List.of("west", "east")), Optional.empty());
        case 2 -> {
          closed = false;
          take(new Input.OpeningReport("doorway", Optional.of(false)));
        }
        case 3 -> take(new Input.LockReport("q1", Optional.of(any(List.of(LockState.values())))));
        case 4 -> take(new Input.ButtonReport("quarry-call", Optional.of(true), true));
        case 5 -> take(new Input.ButtonReport("quarry-call", Optional.of(false), true));
        default -> everyDeviceIsInOrder();
      }
    }

    void step() {
      stepsTaken++;
      nowNs += (long) (random.nextDouble() * 2 * Desk.NS_PER_SECOND);
      last = "advance";
      check(interlocking.advance(nowNs));
      if (grown && random.nextInt(8) == 0) {
        deviceReports();
      }
      int what = random.nextInt(100);
      if (what < 14) {
        report(any(sections), any(List.of(Occupancy.values())));
      } else if (what < 46) {
        report(any(sections), Occupancy.CLEAR);
      } else if (what < 52) {
        detect(any(switches).id(), anyPosition());
      } else {
        ask(command(what));
      }
    }

    private Command command(int what) {
      if (grown && random.nextInt(6) == 0) {
        String sentence = any(random.nextInt(4) == 0 ? SENTENCES : ENDING);
        return Sentences.command(sentence, DESK, new Problems()).orElseThrow();
      }
      if (what < 86) {
        return new Command.Line(any(signals).id(), any(ends), DESK, DESK);
      }
      if (what < 93) {
        return new Command.Cancel(any(signals).id(), DESK);
      }
      return new Command.Throw(any(switches).id(), any(List.of(Position.values())), DESK);
    }

    private void report(String section, Occupancy occupancy) {
      reported.put(section, occupancy);
      take(new Input.SectionReport(section, occupancy));
    }

    private void detect(String id, Optional<Position> position) {
      position.ifPresentOrElse(lie -> detected.put(id, lie), () -> detected.remove(id));
      take(new Input.SwitchReport(id, position));
    }

    /** Switches mostly follow at once, so that routes come to be proved. */
    private void ask(Command command) {
      List<Signal> before = proceeding();
      Step step = take(new Input.Request(command));
      require(
          !(command instanceof Command.Line) || proceeding().containsAll(before),
          "one of " + before + " is put back by lining another");
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent && random.nextInt(10) > 0) {
          detect(sent.switchId(), Optional.of(sent.position()));
        }
      }
    }

    private Step take(Input input) {
      last = input.toString();
      Step step = interlocking.step(input, nowNs);
      check(step);
      return step;
    }

    private void check(Step step) {
      for (Output output : step.outputs()) {
        if (stepsTaken <= JOURNAL_STEPS) {
          journal.add(nowNs + " " + output);
        }
        if (output instanceof Output.Throw sent) {
          checkThrow(sent);
        }
      }
      for (Output output : step.outputs()) {
        if (output instanceof Output.Show show) {
          shown.put(show.signal(), show.aspect());
        }
      }
      checkSignals();
    }

    /** A switch is sent only with its section clear, and not while a signal reads over it. */
    private void checkThrow(Output.Throw sent) {
      moved++;
      var section = layout.switches().get(sent.switchId()).section();
      require(reported.get(section) == Occupancy.CLEAR, sent + " with " + section + " not clear");
      for (Signal signal : proceeding()) {
        boolean wouldMove = detected.get(sent.switchId()) != sent.position();
        boolean readOver =
            way(signal).stream()
                .flatMap(track -> track.leg().stream())
                .anyMatch(leg -> leg.switchId().equals(sent.switchId()));
        require(!(wouldMove && readOver), sent + " under signal " + signal.id());
      }
    }

    /** What a proceed aspect promises, and that no two promise the same section. */
    private void checkSignals() {
      Map<String, String> promised = new LinkedHashMap<>();
      Map<Signal, List<String>> ways = new LinkedHashMap<>();
      for (Signal signal : proceeding()) {
        hasProceeded.add(signal.id());
        var over = way(signal).stream().map(Track::section).distinct().toList();
        ways.put(signal, over);
        boolean callsOn = shown.get(signal.id()).equals("restricting");
        for (String section : over) {
          require(
              reported.get(section) == Occupancy.CLEAR
                  || (callsOn && section.equals("mill-branch")),
              signal.id() + " proceeds over " + section + ", which is " + reported.get(section));
          require(
              callsOn || hasPower(section),
              signal.id() + " proceeds into a district without power");
          require(
              closed || !section.equals("west-main"), signal.id() + " proceeds over the doorway");
          String other = promised.put(section, signal.id());
          require(other == null, signal.id() + " and " + other + " proceed over " + section);
        }
      }
      ways.forEach((signal, over) -> checkWhatItKeepsClear(signal, over, promised));
    }

    /** What the owner has kept clear beyond a way is clear, and no signal leads into it. */
    private void checkWhatItKeepsClear(
        Signal signal, List<String> over, Map<String, String> promised) {
      for (String section : keptClear(signal, over)) {
        require(
            reported.get(section) == Occupancy.CLEAR,
            signal.id() + " keeps " + section + " clear, which is " + reported.get(section));
        String other = promised.get(section);
        require(
            other == null || layout.signals().get(other).at().equals(way.from(signal).end()),
            other + " leads into " + section + ", kept clear by " + signal.id());
      }
    }

    /** The owner's word, in the row of the way that lies. */
    private List<String> keptClear(Signal signal, List<String> over) {
      return table.routesFrom(signal.id()).stream()
          .filter(row -> row.path().equals(over))
          .flatMap(row -> row.alsoClear().stream())
          .toList();
    }

    private boolean hasPower(String section) {
      return layout.lineside().districtOf(section).map(fed -> power.get(fed.id())).orElse(true);
    }

    private List<Signal> proceeding() {
      return signals.stream()
          .filter(signal -> !shown.getOrDefault(signal.id(), Signal.STOP).equals(Signal.STOP))
          .toList();
    }

    private boolean isOpen(Track track) {
      return track.leg().stream().allMatch(leg -> detected.get(leg.switchId()) == leg.position());
    }

    private List<Track> way(Signal signal) {
      return way.from(signal).tracks();
    }

    private void require(boolean holds, String violation) {
      assertTrue(
          holds, () -> "seed %d, step %d, %s: %s".formatted(SEED, stepsTaken, last, violation));
    }

    private Optional<Position> anyPosition() {
      return random.nextInt(3) == 0
          ? Optional.empty()
          : Optional.of(any(List.of(Position.values())));
    }

    private <T> T any(List<T> list) {
      return list.get(random.nextInt(list.size()));
    }
  }
}
