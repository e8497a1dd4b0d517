package tappet.lcc;

import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;

/**
 * A fixed set of events that keeps their order and looks one up by its bare number, so that asking
 * about every frame that passes makes no garbage.
 */
final class EventSet {

  static final EventSet EMPTY = new EventSet(List.of());

  private final List<EventId> inOrder;
  private final long[] sorted;

  EventSet(Collection<EventId> events) {
    inOrder = List.copyOf(new LinkedHashSet<>(events));
    sorted = inOrder.stream().mapToLong(EventId::value).sorted().toArray();
  }

  /** The events, each once, in the order they were given in. */
  List<EventId> inOrder() {
    return inOrder;
  }

  boolean contains(EventId event) {
    return contains(event.value());
  }

  boolean contains(long event) {
    return Arrays.binarySearch(sorted, event) >= 0;
  }
}
