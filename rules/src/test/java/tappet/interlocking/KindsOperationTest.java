package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import tappet.layout.Control;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.source.Place;

/**
 * Anything may be reported, asked and thrown at any time on a railroad with every kind of switch.
 * What must never be is written from the layout and the reports alone; the rules are not read here,
 * but for the release time of the one electric lock.
 */
class KindsOperationTest {

  private static final int STEPS = 50_000;
  private static final long SEED = Long.getLong("seed", 20_261_126L);
  private static final long RELEASE_NS = 8 * Desk.NS_PER_SECOND;
  private static final Set<String> APPROACH = Set.of("west", "mid", "quarry-track");

  // F.1 S3, S4, S5, S6, S8, S13, S15; H.5, H.8, H.17; H.18: each signal proceeds at some time.
  @Test
  void everyKindOfSwitchIsSafeWhateverIsReportedAndAsked() {
    System.out.println("random operation of every kind with -Dseed=" + SEED);
    var run = new Run(SEED);
    for (int step = 0; step < STEPS; step++) {
      run.step();
    }
    assertEquals(run.layout.signals().keySet(), run.hasProceeded);
    assertEquals(Set.of("x1", "l1", "u1"), run.hasMoved);
    assertTrue(run.releases > 100, () -> "only " + run.releases + " releases");
    assertTrue(run.tried > 10, () -> "only " + run.tried + " tried again");
  }

  private static final class Run {

    private static final Place DESK = new Place("desk", 1, 1);

    private final Layout layout = Kinds.RAILROAD.layout();
    private final WayAhead way =
        new WayAhead(new TrackPlan(layout), joint -> false, this::isOpen, this::require);
    private final List<String> sections = List.copyOf(layout.sections().keySet());
    private final List<Switch> switches = List.copyOf(layout.switches().values());
    private final List<Signal> signals = List.copyOf(layout.signals().values());
    private final List<String> ends = new ArrayList<>(layout.signals().keySet());
    private final Random random;
    private final Interlocking interlocking =
        new Interlocking(Kinds.RAILROAD.layout(), Kinds.RAILROAD.table());

    private final Map<String, Occupancy> reported = new LinkedHashMap<>();
    private final Map<String, Position> detected = new LinkedHashMap<>();
    private final Map<String, Position> sentTo = new LinkedHashMap<>();
    private final Map<String, Long> sentNs = new LinkedHashMap<>();
    private final Map<String, String> shown = new LinkedHashMap<>();
    private final Set<String> hasProceeded = new TreeSet<>();
    private final Set<String> hasMoved = new TreeSet<>();
    private Optional<LockState> lock = Optional.empty();
    private boolean released;
    private long overQuarryNs;
    private boolean askedAtControl;
    private int releases;
    private int tried;
    private int stepsTaken;
    private long nowNs;
    private String last = "start";

    Run(long seed) {
      this.random = new Random(seed);
      ends.addAll(List.of("y", "z2", "o", "p", "r", "t"));
      check(interlocking.start(nowNs));
      sections.forEach(id -> report(id, Occupancy.CLEAR));
      detectable().forEach(toe -> detect(toe.id(), Optional.of(Position.NORMAL)));
      reportLock(Optional.of(LockState.SECURED));
    }

    private Stream<Switch> detectable() {
      return switches.stream().filter(Switch::isDetected);
    }

    void step() {
      stepsTaken++;
      nowNs += (long) (random.nextDouble() * 2 * Desk.NS_PER_SECOND);
      last = "advance";
      check(interlocking.advance(nowNs));
      int what = random.nextInt(100);
      if (what < 10) {
        report(any(sections), any(List.of(Occupancy.values())));
      } else if (what < 44) {
        report(any(sections), Occupancy.CLEAR);
      } else if (what < 54) {
        moveByItself();
      } else if (what < 57) {
        askedAtControl = true;
        take(new Input.SwitchAsked("l1", any(List.of(Position.values()))));
        askedAtControl = false;
      } else {
        take(new Input.Request(command(what)));
      }
    }

    /** Crews throw what they can, and what they must not; boards and detectors fail. */
    private void moveByItself() {
      int what = random.nextInt(20);
      if (what == 0) {
        reportLock(any(List.of(Optional.empty(), Optional.of(LockState.RELEASED))));
      } else if (what < 4) {
        reportLock(Optional.of(released ? LockState.RELEASED : LockState.SECURED));
      } else if (what == 4) {
        sentNs.remove("u1");
        take(new Input.SwitchReport("u1", Optional.empty()));
      } else if (what < 12) {
        Position position = any(List.of(Position.values()));
        List.of("quarry", "d1").forEach(id -> detect(id, Optional.of(position)));
      } else {
        var position = Optional.of(any(List.of(Position.values())));
        detect(
            any(detectable().toList()).id(), random.nextInt(4) == 0 ? Optional.empty() : position);
      }
    }

    private Command command(int what) {
      if (what < 82) {
        return new Command.Line(any(signals).id(), any(ends), DESK, DESK);
      }
      if (what < 88) {
        return new Command.Cancel(any(signals).id(), DESK);
      }
      if (what < 94) {
        return new Command.Throw(any(switches).id(), any(List.of(Position.values())), DESK);
      }
      return what < 97
          ? new Command.Release("quarry", Optional.empty(), DESK)
          : new Command.Secure("quarry", DESK);
    }

    private void report(String section, Occupancy occupancy) {
      reported.put(section, occupancy);
      take(new Input.SectionReport(section, occupancy));
    }

    private void detect(String id, Optional<Position> position) {
      position.ifPresentOrElse(lie -> detected.put(id, lie), () -> detected.remove(id));
      take(new Input.SwitchReport(id, position));
    }

    private void reportLock(Optional<LockState> state) {
      lock = state;
      take(new Input.LockReport("quarry", state));
    }

    /** Switches and the lock mostly follow at once, so that routes come to be proved. */
    private void take(Input input) {
      last = input.toString();
      Step step = interlocking.step(input, nowNs);
      check(step);
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent && random.nextInt(10) > 0) {
          numbered(sent.switchId())
              .filter(Switch::isDetected)
              .forEach(end -> detect(end.id(), Optional.of(sent.position())));
        } else if (output instanceof Output.Lock order && random.nextInt(10) > 0) {
          reportLock(Optional.of(order.state()));
        }
      }
    }

    private Stream<Switch> numbered(String id) {
      return switches.stream().filter(end -> end.number().equals(id));
    }

    private void check(Step step) {
      tried += (int) step.changes().stream().filter(told -> told.contains("once more")).count();
      long proceededOverNs = overQuarryNs;
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent) {
          checkThrow(sent);
        } else if (output instanceof Output.Lock order) {
          checkLock(order, proceededOverNs);
        } else if (output instanceof Output.Show show) {
          shown.put(show.signal(), show.aspect());
        }
      }
      checkSignals();
    }

    /**
     * Only what has a motor is sent, with all its ends clear, and not while a signal reads over.
     */
    private void checkThrow(Output.Throw sent) {
      Switch toe = layout.switches().get(sent.switchId());
      hasMoved.add(toe.id());
      require(toe.control().hasMotor(), sent + " is thrown by hand");
      boolean again = sent.position().equals(sentTo.get(toe.id()));
      require(
          toe.control() != Control.LOCAL || askedAtControl || again, sent + " was not asked for");
      numbered(toe.id())
          .forEach(
              end ->
                  require(
                      reported.get(end.section()) == Occupancy.CLEAR,
                      sent + " with " + end.section() + " not clear"));
      for (Signal signal : proceeding()) {
        boolean readOver =
            way(signal).stream()
                .flatMap(track -> track.leg().stream())
                .anyMatch(leg -> layout.switches().get(leg.switchId()).number().equals(toe.id()));
        require(!readOver || again, sent + " under signal " + signal.id());
      }
      if (!again || !sentNs.containsKey(toe.id())) {
        sentNs.put(toe.id(), nowNs);
      }
      sentTo.put(toe.id(), sent.position());
    }

    /**
     * S15: signals over it at Stop for the whole release time, unless a train stands at it and
     * nobody else is near, or nobody is near at all.
     */
    private void checkLock(Output.Lock order, long proceededOverNs) {
      released = order.state() == LockState.RELEASED;
      if (!released) {
        return;
      }
      releases++;
      for (Signal signal : proceeding()) {
        require(
            way(signal).stream().noneMatch(this::isAtTheQuarry),
            "released under signal " + signal.id());
      }
      boolean nobodyElse =
          APPROACH.stream()
              .filter(section -> !section.equals("quarry-track"))
              .allMatch(section -> reported.get(section) == Occupancy.CLEAR);
      boolean standsHere = reported.get("quarry-track") != Occupancy.UNKNOWN;
      require(
          (nobodyElse && standsHere) || nowNs - proceededOverNs >= RELEASE_NS,
          "released %d ms after a signal".formatted((nowNs - proceededOverNs) / 1_000_000));
    }

    private boolean isAtTheQuarry(Track track) {
      return track.section().equals("quarry-track") || track.section().equals("spur-lead");
    }

    /** What a proceed aspect promises, and that no two promise the same section. */
    private void checkSignals() {
      Map<String, String> promised = new LinkedHashMap<>();
      for (Signal signal : proceeding()) {
        hasProceeded.add(signal.id());
        var over = new TreeSet<String>();
        way(signal).forEach(track -> over.add(track.section()));
        for (String section : over) {
          require(
              reported.get(section) == Occupancy.CLEAR,
              signal.id() + " proceeds over " + section + ", which is " + reported.get(section));
          String other = promised.put(section, signal.id());
          require(other == null, signal.id() + " and " + other + " proceed over " + section);
        }
        if (way(signal).stream().anyMatch(this::isAtTheQuarry)) {
          overQuarryNs = nowNs;
          require(
              !released && lock.equals(Optional.of(LockState.SECURED)),
              signal.id() + " proceeds over a switch that is not secured");
        }
      }
    }

    private List<Signal> proceeding() {
      return signals.stream()
          .filter(signal -> !shown.getOrDefault(signal.id(), Signal.STOP).equals(Signal.STOP))
          .toList();
    }

    private List<Track> way(Signal signal) {
      return way.from(signal).tracks();
    }

    /** Sprung switches open for wheels that come from the reverse leg. */
    private boolean isOpen(Track track, String from) {
      if (track.leg().isEmpty()) {
        return true;
      }
      Track.Leg leg = track.leg().get();
      Switch toe = layout.switches().get(leg.switchId());
      boolean pressedOpen =
          toe.control() == Control.SPRUNG
              && leg.position() == Position.REVERSE
              && from.equals(track.to());
      return pressedOpen || numbered(toe.number()).allMatch(end -> lies(end, leg.position()));
    }

    private boolean lies(Switch end, Position position) {
      if (end.isDetected()) {
        return detected.get(end.id()) == position;
      }
      long timeNs = end.working().assumedAfter().orElseThrow().toNanos();
      return sentTo.get(end.id()) == position
          && sentNs.containsKey(end.id())
          && nowNs - sentNs.get(end.id()) >= timeNs;
    }

    private void require(boolean holds, String violation) {
      assertTrue(
          holds, () -> "seed %d, step %d, %s: %s".formatted(SEED, stepsTaken, last, violation));
    }

    private <T> T any(List<T> list) {
      return list.get(random.nextInt(list.size()));
    }
  }
}
