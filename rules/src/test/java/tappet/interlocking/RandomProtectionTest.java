package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Protected;
import tappet.source.Place;

/**
 * A dispatcher and three crews who ask anything at any time, while anything may be reported. What
 * must never be is written from the layout, the reports and the answers alone: this test keeps its
 * own record of who has been told that he is protected, and reads no rules.
 */
class RandomProtectionTest {

  private static final int STEPS = 60_000;
  private static final long SEED = Long.getLong("seed", 20_261_126L);

  /**
   * A railroad to be worked.
   *
   * @param ends where routes may end besides at signals
   * @param yardLimit the joint where signalled track ends without a signal, if there is one
   */
  private record Line(Desk.Railroad railroad, List<String> ends, String yardLimit) {

    @Override
    public String toString() {
      return railroad.layout().name();
    }
  }

  static List<Line> lines() {
    return List.of(
        new Line(Creamery.RAILROAD, List.of("p-end", "q-end", "a", "f"), ""),
        new Line(
            Desk.Railroad.DEMO,
            List.of("fallow-1-end", "fallow-2-end", "corvane-end", "mill-end", "j15"),
            "j15"));
  }

  // F.1 S16, F.2 L7: each kind of protection has been in force, and each has turned trains away.
  @ParameterizedTest
  @MethodSource("lines")
  void nobodyIsLetInOnPeopleAtWork(Line line) {
    System.out.println("random protection with -Dseed=" + SEED);
    var run = new Run(line, SEED);
    for (int step = 0; step < STEPS; step++) {
      run.step();
    }
    assertEquals(Set.of(Protected.values()), run.given.keySet(), run.given::toString);
    assertTrue(run.proceeded > 300, () -> "only " + run.proceeded + " signals cleared");
    assertTrue(run.movedByOthers > 200, () -> "only " + run.movedByOthers + " switches sent");
    assertTrue(run.movedByHolders > 20, () -> "only " + run.movedByHolders + " sent by holders");
    assertTrue(run.restarts > 20, () -> "only " + run.restarts + " restarts");
  }

  private static final class Run {

    private static final Place DESK = new Place("desk", 1, 1);
    private static final List<String> CREWS = List.of("Way Freight", "Section crew", "Plant crew");
    private static final Duration WARM_UP = Duration.ofSeconds(30);

    private final long seed;
    private final Line line;
    private final Layout layout;
    private final TrackPlan plan;
    private final WayAhead way;
    private final List<String> sections;
    private final List<Switch> switches;
    private final List<Signal> signals;
    private final List<String> ends = new ArrayList<>();
    private final Random random;
    private Interlocking interlocking;

    private final Map<String, Occupancy> reported = new LinkedHashMap<>();
    private final Map<String, Position> detected = new LinkedHashMap<>();
    private final Map<String, String> shown = new LinkedHashMap<>();

    /** By kind and device: who has been told that he is protected there. */
    private final Map<Protected, Map<String, String>> held = new EnumMap<>(Protected.class);

    /** Signals that somebody has asked for since they were last blocked. */
    private final Set<String> askedSince = new LinkedHashSet<>();

    private final Map<Protected, Integer> given = new EnumMap<>(Protected.class);
    private Optional<Command.ThrowFor> thrownForHolder = Optional.empty();
    private int proceeded;
    private int movedByOthers;
    private int movedByHolders;
    private int restarts;
    private int stepsTaken;
    private long nowNs;
    private String last = "start";

    Run(Line line, long seed) {
      this.seed = seed;
      this.line = line;
      this.random = new Random(seed);
      this.layout = line.railroad().layout();
      this.plan = new TrackPlan(layout);
      this.way =
          new WayAhead(
              plan, line.yardLimit()::equals, (track, from) -> isOpen(track), this::require);
      this.sections = List.copyOf(layout.sections().keySet());
      this.switches = List.copyOf(layout.switches().values());
      this.signals = List.copyOf(layout.signals().values());
      ends.addAll(layout.signals().keySet());
      ends.addAll(line.ends());
      for (Protected by : Protected.values()) {
        held.put(by, new LinkedHashMap<>());
      }
      start(KeptProtections.NONE);
    }

    private void start(KeptProtections kept) {
      interlocking = new Interlocking(layout, line.railroad().table());
      interlocking.restore(kept);
      check(interlocking.start(nowNs));
      sections.forEach(id -> report(id, Occupancy.CLEAR));
      switches.forEach(
          toe -> detect(toe.id(), Optional.of(detected.getOrDefault(toe.id(), Position.NORMAL))));
      nowNs += WARM_UP.toNanos();
      check(interlocking.advance(nowNs));
    }

    void step() {
      stepsTaken++;
      nowNs += (long) (random.nextDouble() * 2 * Desk.NS_PER_SECOND);
      last = "advance";
      check(interlocking.advance(nowNs));
      int what = random.nextInt(1_000);
      if (what < 30) {
        report(any(sections), any(List.of(Occupancy.values())));
      } else if (what < 330) {
        report(any(sections), Occupancy.CLEAR);
      } else if (what < 350) {
        detect(any(switches).id(), anyPosition());
      } else if (what < 750) {
        dispatch();
      } else if (what < 997) {
        atWork();
      } else {
        restarts++;
        start(interlocking.kept());
      }
    }

    private void dispatch() {
      int what = random.nextInt(10);
      if (what < 7) {
        String from = any(signals).id();
        if (!held.get(Protected.BLOCKED_SIGNAL).containsKey(from)) {
          askedSince.add(from);
        }
        ask(new Command.Line(from, any(ends), DESK, DESK));
      } else if (what < 8) {
        ask(new Command.Cancel(any(signals).id(), DESK));
      } else {
        ask(new Command.Throw(any(switches).id(), anyEnd(), DESK));
      }
    }

    private void atWork() {
      String crew = any(CREWS);
      switch (random.nextInt(20)) {
        case 0 -> protect(Protected.PERMIT, crew, someSections());
        case 1 -> protect(Protected.BLOCKED_SECTION, crew, List.of(any(sections)));
        case 2 -> protect(Protected.BLOCKED_SWITCH, crew, List.of(any(switches).id()));
        case 3 -> protect(Protected.BLOCKED_SIGNAL, crew, List.of(any(signals).id()));
        case 4 -> protect(Protected.FLAG, crew, List.of(any(sections)));
        case 5, 6 -> throwForHolder(crew);
        default -> end(crew);
      }
    }

    private void protect(Protected by, String crew, List<String> devices) {
      Command command =
          switch (by) {
            case PERMIT -> new Command.GrantPermit(crew, devices, Optional.empty(), DESK);
            case FLAG -> new Command.Flag(devices.get(0), crew, Optional.empty(), DESK);
            case BLOCKED_SIGNAL, BLOCKED_SWITCH, BLOCKED_SECTION ->
                new Command.Block(by.device(), devices.get(0), crew, Optional.empty(), DESK);
          };
      if (ask(command)) {
        given.merge(by, 1, Integer::sum);
        devices.forEach(device -> held.get(by).put(device, crew));
        if (by == Protected.BLOCKED_SIGNAL) {
          askedSince.remove(devices.get(0));
        }
        checkSignals();
      }
    }

    private void end(String crew) {
      Protected by = any(List.of(Protected.values()));
      Map<String, String> places = held.get(by);
      String device = places.isEmpty() ? anyOf(by) : any(List.copyOf(places.keySet()));
      Command command =
          switch (by) {
            case PERMIT -> new Command.ReturnPermit(crew, DESK);
            case FLAG -> new Command.Unflag(device, crew, DESK);
            case BLOCKED_SIGNAL, BLOCKED_SWITCH, BLOCKED_SECTION ->
                new Command.Unblock(by.device(), device, DESK);
          };
      boolean his =
          by == Protected.PERMIT ? places.containsValue(crew) : places.containsKey(device);
      if (by == Protected.FLAG) {
        his = crew.equals(places.get(device));
      }
      boolean ended = ask(command);
      require(ended == his, command + " was " + (ended ? "done" : "refused"));
      if (ended && by == Protected.PERMIT) {
        places.values().removeIf(crew::equals);
      } else if (ended) {
        places.remove(device);
      }
    }

    private void throwForHolder(String crew) {
      var command = new Command.ThrowFor(any(switches).id(), anyEnd(), crew, DESK);
      thrownForHolder = Optional.of(command);
      ask(command);
      thrownForHolder = Optional.empty();
    }

    private List<String> someSections() {
      Set<String> some = new LinkedHashSet<>();
      for (int count = 1 + random.nextInt(3); count > 0; count--) {
        some.add(any(sections));
      }
      return List.copyOf(some);
    }

    private String anyOf(Protected by) {
      return switch (by.device()) {
        case SECTION -> any(sections);
        case SWITCH -> any(switches).id();
        case SIGNAL -> any(signals).id();
      };
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
    private boolean ask(Command command) {
      Step step = take(new Input.Request(command));
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent && random.nextInt(10) > 0) {
          detect(sent.switchId(), Optional.of(sent.position()));
        }
      }
      return step.answer().orElseThrow().granted();
    }

    private Step take(Input input) {
      last = input.toString();
      Step step = interlocking.step(input, nowNs);
      check(step);
      return step;
    }

    private void check(Step step) {
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent) {
          checkThrow(sent);
        }
      }
      for (Output output : step.outputs()) {
        if (output instanceof Output.Show show) {
          shown.put(show.signal(), show.aspect());
          noteAspect(show);
        }
      }
      checkSignals();
    }

    private void noteAspect(Output.Show show) {
      if (!show.aspect().equals(Signal.STOP)) {
        proceeded++;
        require(
            askedSince.contains(show.signal()),
            show + " though nobody has asked for it since it was blocked");
      }
    }

    /** Nobody moves a switch under people at work but the holder of the permit it lies in. */
    private void checkThrow(Output.Throw sent) {
      Switch toe = layout.switches().get(sent.switchId());
      require(!held.get(Protected.BLOCKED_SWITCH).containsKey(toe.id()), sent + " while blocked");
      for (Protected by : List.of(Protected.BLOCKED_SECTION, Protected.FLAG)) {
        require(!held.get(by).containsKey(toe.section()), sent + " in a section with " + by);
      }
      for (String flagged : held.get(Protected.FLAG).keySet()) {
        require(!leadsInto(toe, flagged), sent + " beside the flagged " + flagged);
      }
      String holder = held.get(Protected.PERMIT).get(toe.section());
      boolean his =
          thrownForHolder
              .filter(order -> order.switchId().equals(toe.id()) && order.holder().equals(holder))
              .isPresent();
      require(holder == null || his, sent + " in the limits of " + holder);
      require(reported.get(toe.section()) == Occupancy.CLEAR, sent + " under a train");
      if (holder == null) {
        movedByOthers++;
      } else {
        movedByHolders++;
      }
    }

    private boolean leadsInto(Switch toe, String section) {
      return List.of(Position.values()).stream()
          .map(toe::leg)
          .anyMatch(
              joint -> !toe.section().equals(section) && !plan.into(joint, section).isEmpty());
    }

    private void checkSignals() {
      for (Signal signal : signals) {
        if (!shown.getOrDefault(signal.id(), Signal.STOP).equals(Signal.STOP)) {
          require(
              !held.get(Protected.BLOCKED_SIGNAL).containsKey(signal.id()),
              signal.id() + " proceeds while blocked");
          for (String section : reached(signal)) {
            for (Protected by :
                List.of(Protected.PERMIT, Protected.BLOCKED_SECTION, Protected.FLAG)) {
              require(
                  !held.get(by).containsKey(section),
                  signal.id() + " proceeds over " + section + ", held by " + by);
            }
          }
        }
      }
    }

    /** The sections from a signal to the next one, as the switches are detected to lie. */
    private Set<String> reached(Signal signal) {
      Set<String> reached = new TreeSet<>();
      WayAhead.Way ahead = way.from(signal);
      ahead.tracks().forEach(track -> reached.add(track.section()));
      if (ahead.end().equals(line.yardLimit())) {
        plan.onwards(ahead.tracks().get(ahead.tracks().size() - 1), ahead.end())
            .forEach(track -> reached.add(track.section()));
      }
      return reached;
    }

    private boolean isOpen(Track track) {
      return track.leg().stream().allMatch(leg -> detected.get(leg.switchId()) == leg.position());
    }

    private void require(boolean holds, String violation) {
      assertTrue(
          holds,
          () -> "%s, seed %d, step %d, %s: %s".formatted(line, seed, stepsTaken, last, violation));
    }

    private Position anyEnd() {
      return any(List.of(Position.values()));
    }

    private Optional<Position> anyPosition() {
      return random.nextInt(3) == 0 ? Optional.empty() : Optional.of(anyEnd());
    }

    private <T> T any(List<T> list) {
      return list.get(random.nextInt(list.size()));
    }
  }
}
