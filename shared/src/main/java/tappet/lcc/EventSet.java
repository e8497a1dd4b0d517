package tappet.lcc;

import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;

/**
 * A fixed set of events and ranges of events that keeps their order and looks one up by its bare
 * number, so that asking about every frame that passes makes no garbage.
 */
final class EventSet {

  static final EventSet EMPTY = new EventSet(List.of(), List.of());
  static final int NOT_LISTED = -1;

  private final List<EventId> inOrder;
  private final List<EventRange> ranges;
  private final long[] sorted;
  private final int[] places;

  EventSet(Collection<EventId> events, Collection<EventRange> ranges) {
    this.inOrder = List.copyOf(new LinkedHashSet<>(events));
    this.ranges = List.copyOf(new LinkedHashSet<>(ranges));
    this.sorted = inOrder.stream().mapToLong(EventId::value).sorted().toArray();
    this.places = places();
  }

  private int[] places() {
    Map<Long, Integer> places = new LinkedHashMap<>();
    for (EventId event : inOrder) {
      places.put(event.value(), places.size());
    }
    return Arrays.stream(sorted).mapToInt(places::get).toArray();
  }

  /** The single events, each once, in the order they were given in. */
  List<EventId> inOrder() {
    return inOrder;
  }

  /** The ranges, each once, in the order they were given in. */
  List<EventRange> ranges() {
    return ranges;
  }

  boolean contains(EventId event) {
    return contains(event.value());
  }

  boolean contains(long event) {
    return indexOf(event) != NOT_LISTED || inRange(event);
  }

  /** The place in {@link #inOrder}; {@link #NOT_LISTED} if it is no single event of the set. */
  int indexOf(long event) {
    int found = Arrays.binarySearch(sorted, event);
    return found < 0 ? NOT_LISTED : places[found];
  }

  private boolean inRange(long event) {
    for (int index = 0; index < ranges.size(); index++) {
      if (ranges.get(index).contains(event)) {
        return true;
      }
    }
    return false;
  }
}
