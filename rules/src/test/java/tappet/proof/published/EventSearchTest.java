package tappet.proof.published;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static tappet.network.Expression.all;
import static tappet.network.Expression.always;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.proof.Property;
import tappet.proof.Property.Kind;
import tappet.proof.published.EventSearch.Extent;

/** The search counts what can be counted by hand, and sees what is broken. */
class EventSearchTest {

  /** More events than are looked at together, and more latches than bits in a word. */
  private static final int PLACES = 150;

  private final Machine machine = new Machine();

  /** A train on a ring of places: it goes from each to the next. */
  private List<Variable> ring() {
    List<Variable> places = new ArrayList<>(List.of(machine.latchInitiallyTrue("in 0")));
    for (int place = 1; place < PLACES; place++) {
      places.add(machine.latch("in " + place));
    }
    for (int place = 0; place < PLACES; place++) {
      Variable here = places.get(place);
      Expression leaves = machine.event("leave " + place, is(here));
      machine.reset(here, leaves);
      machine.set(places.get((place + 1) % PLACES), leaves);
    }
    return places;
  }

  private EventSearch search() {
    Variable happens = machine.anyEventHappens();
    return new EventSearch(machine.watched(), happens);
  }

  @Test
  void trainOnARingIsInEachPlaceOnce() {
    ring();
    assertEquals(new Extent(PLACES, PLACES, PLACES - 1), search().search(each -> {}));
  }

  // The file of the train system counts them so: track is laid anew for a route that it lies for.
  @Test
  void eventThatChangesNothingIsATransitionToo() {
    List<Variable> places = ring();
    machine.event("look round", is(places.get(7)));
    assertEquals(new Extent(PLACES, PLACES + 1, PLACES - 1), search().search(each -> {}));
  }

  @Test
  void demandThatFailsInOneStateIsBroken() {
    List<Variable> places = ring();
    machine.demand(Kind.ONE_AUTHORITY, "never in 140", not(places.get(140)));
    machine.demand(
        Kind.ONE_AUTHORITY, "never in 3 and 4", not(all(is(places.get(3)), is(places.get(4)))));
    EventSearch search = search();
    search.search(each -> {});
    assertEquals(
        Set.of("never in 140"),
        search.broken().stream().map(Property::words).collect(Collectors.toSet()));
  }

  @Test
  void machineThatMovesByItselfIsRefused() {
    ring();
    machine.set(machine.latch("moved"), always());
    EventSearch search = search();
    assertThrows(IllegalStateException.class, () -> search.search(each -> {}));
  }

  @Test
  void machineThatIsToldAnythingIsRefused() {
    ring();
    machine.input("told");
    assertThrows(IllegalArgumentException.class, this::search);
  }
}
