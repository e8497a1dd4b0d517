package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Desk.Railroad;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.Property;
import tappet.proof.track.SafetyProperties;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** New files at any moment, while anything is reported and anything asked. */
class SuccessionInRandomOperationTest {

  private static final long SEED = Long.getLong("seed", 20_261_126L);
  private static final int STEPS = Integer.getInteger("steps", 4_000);
  private static final Place DESK = new Place("desk", 1, 1);

  private static final List<String> SENTENCES =
      List.of(
          "line a2e to b2e",
          "line b2e to m2e",
          "line d2w to m2w",
          "line g2w to m2w",
          "line c4e to e",
          "call on c4e to e",
          "line c4e to h",
          "line b4w to y",
          "fleet b2e to m2e",
          "stack d2w to m2w",
          "stack c4e to h",
          "unfleet b2e",
          "unstack d2w",
          "unstack c4e",
          "cancel a2e",
          "cancel b2e",
          "cancel d2w",
          "cancel g2w",
          "cancel c4e",
          "cancel b4w",
          "set traffic middle east",
          "set traffic middle west",
          "throw e1 normal",
          "throw e1 reverse",
          "block section outer for 'Crew'",
          "unblock section outer");

  /** Edits that leave the rules sound. */
  private static final List<Railroad> EDITIONS =
      List.of(
          Between.OVERLAPPED,
          edited(
              "clear: [west, outer], speed: main, release: 8 s",
              "clear: [west, outer], speed: main, release: 10 s"),
          edited("clear: [east-os, pocket]", "clear: [east-os, pocket, east]"),
          edited(
              "times: {loss of shunt: 2 s, start: 10 s}",
              "times: {loss of shunt: 3 s, start: 15 s}"),
          edited(
              "  - {from: c4e, to: h, switches: {e1: reverse}, clear: [east-os, pocket], speed: main, release: 8 s}\n",
              ""),
          edited(
              "aspects:\n", "also:\n  - {signal: c4e, needs: section outer is clear}\naspects:\n"));

  private static Railroad edited(String text, String otherwise) {
    assertTrue(Between.OVERLAPPED_RULES.contains(text), text);
    return Railroad.read(
        Between.OVERLAPPED_LAYOUT, Between.OVERLAPPED_RULES.replace(text, otherwise));
  }

  // The interlocking that runs cannot be told from one whose files are read again and again.
  @Test
  void sameFilesReadAgainMakeNoDifference() {
    System.out.println("reloads of the same files with -Dseed=" + SEED + " -Dsteps=" + STEPS);
    var files = Between.OVERLAPPED;
    var happenings = new Happenings(files.layout(), new Random(SEED));
    var plain = compiled(files);
    var renewed = compiled(files);
    assertEquals(plain.start(0), renewed.start(0));
    for (int step = 0; step < STEPS; step++) {
      if (happenings.random.nextInt(40) == 0) {
        renewed = sameAgain(renewed, files, happenings.nowNs);
      }
      var input = happenings.next();
      long nowNs = happenings.nowNs;
      assertEquals(plain.advance(nowNs), renewed.advance(nowNs));
      var expected = plain.step(input, nowNs);
      assertEquals(expected, renewed.step(input, nowNs));
      assertEquals(plain.deadlineNs(), renewed.deadlineNs());
      happenings.follow(expected);
    }
    assertSameState(plain, renewed);
    assertTrue(happenings.proceeded.size() > 5, happenings.proceeded::toString);
  }

  private static Interlocking sameAgain(Interlocking running, Railroad files, long nowNs) {
    running.advance(nowNs);
    var attempt = new Succession(running, compiled(files));
    var taken = attempt.attempt(running, nowNs);
    assertEquals(List.of(), taken.against());
    assertEquals(List.of(), taken.step().orElseThrow().outputs());
    return attempt.after();
  }

  private static void assertSameState(Interlocking one, Interlocking other) {
    for (Variable variable : one.network().variables()) {
      var same = other.network().named(variable.name());
      assertEquals(one.value(variable), other.value(same), variable::name);
    }
    assertEquals(one.picture(), other.picture());
  }

  // F.1 of the interlocking sheet: what a proof demands of the track plan holds in every tick,
  // across every exchange, with all that the watches have seen under the rules before.
  @Test
  void nothingBecomesUnsafeWhateverIsExchanged() {
    System.out.println("reloads of other files with -Dseed=" + SEED + " -Dsteps=" + STEPS);
    var happenings = new Happenings(Between.OVERLAPPED.layout(), new Random(SEED));
    var running = compiled(Between.OVERLAPPED);
    var watched = new Watched(Between.OVERLAPPED);
    running.start(0);
    watched.interlocking.start(0);
    int edition = 0;
    int exchanged = 0;
    int inUse = 0;
    int refused = 0;
    for (int step = 0; step < STEPS; step++) {
      if (happenings.random.nextInt(10) == 0) {
        int next = happenings.random.nextInt(EDITIONS.size());
        running.advance(happenings.nowNs);
        watched.interlocking.advance(happenings.nowNs);
        var succession = new Succession(running, compiled(EDITIONS.get(next)));
        var attempt = succession.attempt(running, happenings.nowNs);
        if (attempt.step().isPresent()) {
          assertEquals(List.of(), attempt.step().get().outputs());
          exchanged += next == edition ? 0 : 1;
          inUse += next != edition && happenings.anyProceeds() ? 1 : 0;
          running = succession.after();
          watched = watched.succeededBy(EDITIONS.get(next), happenings.nowNs);
          edition = next;
        } else {
          refused++;
        }
      }
      var input = happenings.next();
      running.advance(happenings.nowNs);
      watched.interlocking.advance(happenings.nowNs);
      var told = running.step(input, happenings.nowNs);
      assertEquals(told, watched.interlocking.step(input, happenings.nowNs));
      watched.requireSafe(step, input);
      happenings.follow(told);
    }
    System.out.printf(
        "%d exchanged, %d while a signal proceeded, %d refused%n", exchanged, inUse, refused);
    assertTrue(exchanged > 50 && inUse > 10 && refused > 50);
  }

  private static Interlocking compiled(Railroad files) {
    return new Interlocking(files.layout(), files.table());
  }

  /** An interlocking under the watch of all that a proof demands. */
  private static final class Watched {

    private final Set<String> broken = new LinkedHashSet<>();
    private final Set<Variable> demanded = new HashSet<>();
    private final Interlocking interlocking;

    Watched(Railroad files) {
      interlocking =
          new Interlocking(
              files.layout(),
              files.table(),
              network -> over(files.layout(), network),
              (variable, value) -> {
                if (!value && demanded.contains(variable)) {
                  broken.add(variable.name());
                }
              });
    }

    private Network over(Layout layout, Network network) {
      var safety = SafetyProperties.of(layout, network);
      safety.properties().stream().map(Property::holds).forEach(demanded::add);
      return safety.network();
    }

    /** What the watches have seen, they have seen. */
    Watched succeededBy(Railroad files, long nowNs) {
      var next = new Watched(files);
      var before = interlocking.network();
      next.interlocking.takeOver(
          interlocking,
          variable ->
              before
                  .find(variable.name())
                  .map(interlocking::value)
                  .orElseGet(() -> startsTrue(next.interlocking.network(), variable)),
          nowNs);
      next.demanded.stream()
          .filter(property -> !next.interlocking.value(property))
          .forEach(property -> next.broken.add(property.name()));
      return next;
    }

    private static boolean startsTrue(Network network, Variable variable) {
      var latch = network.latches().get(variable);
      return latch != null && latch.initially();
    }

    void requireSafe(int step, Input last) {
      assertEquals(Set.of(), broken, () -> "seed " + SEED + ", step " + step + ", after " + last);
    }
  }

  /** Likely reports and requests; switches mostly follow. */
  private static final class Happenings {
    private final List<String> sections;
    private final Random random;
    private final Set<String> proceeded = new LinkedHashSet<>();
    private final Set<String> proceeding = new LinkedHashSet<>();
    private final List<Input> due = new ArrayList<>();
    private long nowNs;

    Happenings(Layout layout, Random random) {
      this.sections = List.copyOf(layout.sections().keySet());
      this.random = random;
      sections.forEach(id -> due.add(new Input.SectionReport(id, Occupancy.CLEAR)));
      layout
          .switches()
          .keySet()
          .forEach(id -> due.add(new Input.SwitchReport(id, Optional.of(Position.NORMAL))));
    }

    Input next() {
      nowNs += (long) (random.nextDouble() * 2 * Desk.NS_PER_SECOND);
      if (!due.isEmpty()) {
        return due.remove(0);
      }
      int what = random.nextInt(100);
      if (what < 12) {
        return new Input.SectionReport(any(sections), any(List.of(Occupancy.values())));
      }
      if (what < 60) {
        return new Input.SectionReport(any(sections), Occupancy.CLEAR);
      }
      var sentence = any(SENTENCES);
      return new Input.Request(Sentences.command(sentence, DESK, new Problems()).orElseThrow());
    }

    void follow(Step step) {
      for (Output output : step.outputs()) {
        if (output instanceof Output.Throw sent && random.nextInt(20) > 0) {
          due.add(new Input.SwitchReport(sent.switchId(), Optional.empty()));
          due.add(new Input.SwitchReport(sent.switchId(), Optional.of(sent.position())));
        } else if (output instanceof Output.Show show && show.aspect().equals("stop")) {
          proceeding.remove(show.signal());
        } else if (output instanceof Output.Show show) {
          proceeding.add(show.signal());
          proceeded.add(show.signal());
        }
      }
    }

    boolean anyProceeds() {
      return !proceeding.isEmpty();
    }

    private <T> T any(List<T> things) {
      return things.get(random.nextInt(things.size()));
    }
  }
}
