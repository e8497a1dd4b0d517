package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.all;
import static tappet.network.Expression.always;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.Interlocking;
import tappet.layout.Guard;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.measure.Railroad;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.proof.Property.Kind;
import tappet.proof.track.SafetyProperties;
import tappet.source.Place;

/**
 * The proof is not blind: for each kind of property there is a faulty network of the demo, and a
 * story is found in which the property is broken (interlocking sheet, H.18 and L7).
 */
class NotBlindTest {

  /** No fault here needs a longer story. */
  private static final int TICKS = 8;

  private static final Railroad DEMO = Railroad.named(Railroad.DEMO);
  private static final Network SOUND = new Interlocking(DEMO.layout(), DEMO.table()).network();

  /** The demo has no switch that only guards: here one is said to, and the rules do not ask it. */
  private static final Layout GUARDED =
      DEMO.layout()
          .runBy(
              DEMO.layout().trains(),
              List.of(
                  new Guard(
                      "west-main", Map.of("t1", Position.REVERSE), Place.inText("a test", 1))));

  /** One equation is wrong, and properties of one kind must notice. */
  private record Fault(Kind broken, String equation, Expression meaning) {
    @Override
    public String toString() {
      return broken + " by a wrong '" + equation + "'";
    }
  }

  private static Expression value(String variable) {
    return is(SOUND.named(variable));
  }

  private static List<Fault> faults() {
    return List.of(
        new Fault(Kind.CLEAR_WAY, "route t2e-t4e: proceeds", value("route t2e-t4e: signal called")),
        new Fault(Kind.CLEAR_WAY, "section tilling-main: vacant", always()),
        new Fault(Kind.ONE_AUTHORITY, "section tilling-w: held", never()),
        new Fault(Kind.ONE_AUTHORITY, "signal t4w: proceeds", always()),
        new Fault(Kind.LINE_ONE_WAY, "traffic midway: closed west", never()),
        new Fault(Kind.SWITCH_UNDER_TRAIN, "switch t1: movable", always()),
        new Fault(Kind.SWITCH_UNDER_AUTHORITY, "switch t1: locked", never()),
        new Fault(Kind.LOCK_UNDER_AUTHORITY, "lock q1: free for the permit's holder", always()),
        new Fault(Kind.ASPECT_BEYOND, "signal t2e: shows clear", value("signal t2e: proceeds")),
        new Fault(Kind.ASPECT_SPEED, "signal t2e: shows clear", value("signal t2e: proceeds")),
        new Fault(Kind.FLANK, "signal f2e: proceeds", value("route f2e-t2e: proceeds")),
        new Fault(Kind.PEOPLE, "section tilling-main: closed", never()),
        new Fault(Kind.PEOPLE, "switch t1: fixed", never()),
        new Fault(Kind.PEOPLE, "section mid-west: blocked available", onlyWhileAtStop("mid-west")),
        new Fault(Kind.PEOPLE, "route m2w-t8w: seen", value("route m2w-t8w: proceeds")),
        new Fault(Kind.OPENING, "opening doorway: secured", always()),
        new Fault(Kind.OPENING, "opening doorway: can be unlocked", always()),
        new Fault(Kind.ROAD, "grade crossing mill-road-bells: warns", never()),
        new Fault(Kind.ROAD, "grade crossing mill-road-bells: warns for mid-west", never()),
        new Fault(Kind.START, "start: done", always()),
        new Fault(Kind.EMERGENCY, "signal t2e: proceeds", always()));
  }

  /** Of the trains on the line it is only asked that no signal proceeds at this moment. */
  private static Expression onlyWhileAtStop(String section) {
    return all(
        value("start: done"),
        not(SOUND.named("section " + section + ": closed")),
        not(SOUND.named("section " + section + ": held")),
        not(SOUND.named("route m2w-t8w: proceeds")));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void findsAStoryInWhichTheFaultyNetworkIsUnsafe(Fault fault) {
    Watched watched =
        SafetyProperties.of(GUARDED, Altered.with(SOUND, fault.equation(), fault.meaning()));
    StorySearch search = new StorySearch(watched, List.of());
    assertTrue(
        watched.properties().stream()
            .filter(property -> property.kind() == fault.broken())
            .anyMatch(property -> search.reaching(property.holds(), false, TICKS).isPresent()),
        fault.toString());
  }

  @Test
  void thereIsAFaultForEveryKindOfProperty() {
    Set<Kind> broken =
        faults().stream()
            .map(Fault::broken)
            .collect(Collectors.toCollection(() -> EnumSet.noneOf(Kind.class)));
    assertEquals(Stream.of(Kind.values()).collect(Collectors.toSet()), broken);
  }
}
