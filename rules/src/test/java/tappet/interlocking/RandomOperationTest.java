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
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.source.Place;

/**
 * Anything may be reported and anything asked, at any time. What must never be is written from the
 * layout and the reports alone; the rules are not read here.
 */
class RandomOperationTest {

  private static final int STEPS = 200_000;
  private static final long SEED = Long.getLong("seed", 20_261_125L);

  /** Where signalled track ends without a signal: the yard beyond is run at sight. */
  private static final String YARD_LIMIT = "j15";

  // F.1 S3, S4, S5, S6, S8, S13; H.18: each signal proceeds at some time.
  @Test
  void railroadIsSafeWhateverIsReportedAndAsked() {
    System.out.println("random operation with -Dseed=" + SEED);
    var run = new Run(SEED);
    for (int step = 0; step < STEPS; step++) {
      run.step();
    }
    assertEquals(run.layout.signals().keySet(), new HashSet<>(run.hasProceeded));
    assertTrue(run.moved > 1_000, () -> "only " + run.moved + " switches sent");
  }

  // The same inputs give the same outputs, always.
  @Test
  void sameInputsGiveTheSameOutputs() {
    var one = new Run(SEED + 1);
    var other = new Run(SEED + 1);
    for (int step = 0; step < 5_000; step++) {
      one.step();
      other.step();
    }
    assertFalse(one.journal.isEmpty());
    assertEquals(one.journal, other.journal);
  }

  private static final class Run {

    private static final Place DESK = new Place("desk", 1, 1);

    private final Layout layout = Desk.Railroad.DEMO.layout();
    private final TrackPlan plan = new TrackPlan(layout);
    private final List<String> sections = List.copyOf(layout.sections().keySet());
    private final List<Switch> switches = List.copyOf(layout.switches().values());
    private final List<Signal> signals = List.copyOf(layout.signals().values());
    private final List<String> ends = new ArrayList<>(layout.signals().keySet());
    private final Random random;
    private final Interlocking interlocking;

    private final Map<String, Occupancy> reported = new LinkedHashMap<>();
    private final Map<String, Position> detected = new LinkedHashMap<>();
    private final Map<String, String> shown = new LinkedHashMap<>();
    private final Set<String> hasProceeded = new TreeSet<>();
    private final List<String> journal = new ArrayList<>();
    private int moved;
    private int stepsTaken;
    private long nowNs;
    private String last = "start";

    Run(long seed) {
      this.random = new Random(seed);
      this.interlocking = new Interlocking(layout, Desk.Railroad.DEMO.table());
      ends.addAll(List.of("fallow-1-end", "fallow-2-end", "corvane-end", "mill-end", YARD_LIMIT));
      check(interlocking.start(nowNs));
      sections.forEach(id -> report(id, Occupancy.CLEAR));
      switches.forEach(toe -> detect(toe.id(), Optional.of(Position.NORMAL)));
    }

    void step() {
      stepsTaken++;
      nowNs += (long) (random.nextDouble() * 2 * Desk.NS_PER_SECOND);
      last = "advance";
      check(interlocking.advance(nowNs));
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
      for (Output output : take(new Input.Request(command)).outputs()) {
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
        journal.add(nowNs + " " + output);
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
      }
    }

    private List<Signal> proceeding() {
      return signals.stream()
          .filter(signal -> !shown.getOrDefault(signal.id(), Signal.STOP).equals(Signal.STOP))
          .toList();
    }

    /** The track from a signal to the next one, as the switches are detected to lie. */
    private List<Track> way(Signal signal) {
      List<Track> way = new ArrayList<>();
      String at = signal.at();
      List<Track> ahead = plan.into(at, signal.into());
      while (!ahead.isEmpty() && (way.isEmpty() || !endsAt(at, ahead))) {
        Track over = passable(signal, ahead);
        way.add(over);
        at = over.otherEnd(at);
        ahead = plan.onwards(over, at);
      }
      return way;
    }

    private boolean endsAt(String joint, List<Track> ahead) {
      return joint.equals(YARD_LIMIT)
          || signals.stream()
              .filter(signal -> signal.at().equals(joint))
              .anyMatch(
                  signal ->
                      ahead.stream().anyMatch(track -> track.section().equals(signal.into())));
    }

    private Track passable(Signal signal, List<Track> ahead) {
      var open =
          ahead.stream()
              .filter(
                  track ->
                      track.leg().stream()
                          .allMatch(leg -> detected.get(leg.switchId()) == leg.position()))
              .toList();
      require(
          open.size() == 1, signal.id() + " proceeds over a switch that does not lie: " + ahead);
      return open.get(0);
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
