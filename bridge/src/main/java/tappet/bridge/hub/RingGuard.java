package tappet.bridge.hub;

import java.util.ArrayDeque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.random.RandomGenerator;
import tappet.lcc.CanFrame;

/**
 * Keeps hubs joined in a ring from melting down: in a ring each frame comes back and goes round for
 * ever, and text frames carry no count of hops.
 *
 * <ol>
 *   <li><b>Suspicion.</b> {@value #COPIES_SUSPECT} frames within a second that another connection
 *       said a moment before ({@link RecentFrames}). A board that repeats itself does so behind one
 *       connection and is never suspected.
 *   <li><b>Proof.</b> A search ({@link RingProbe}): only a frame that comes back convicts. A bus
 *       wrongly suspected costs one short frame, and nothing is ever held back on suspicion.
 *   <li><b>Cut.</b> Of the two connections that are joined elsewhere, the one that came last is
 *       cut: it stays open, but frames flow neither to nor from it. A connection that sends back
 *       what it is told is cut only when it does so {@value #ECHOES_PROOF} searches in a row:
 *       perhaps the ring lies beyond it, and the hubs there cut it.
 *   <li><b>Return.</b> After a rest, twice as long each time, a search goes down the cut connection
 *       alone; if it does not come back, the connection is put back.
 * </ol>
 *
 * <p>Time is an argument. One thread only: the hub's event loop.
 */
final class RingGuard {

  static final int COPIES_SUSPECT = 8;
  static final int ECHOES_PROOF = 8;

  static final long FIRST_REST_NS = 1_000_000_000L;
  static final long LONGEST_REST_NS = 30_000_000_000L;

  /** A frame that has not come back by then does not come: a lap takes milliseconds. */
  static final long PATIENCE_NS = 1_000_000_000L;

  private static final long COUNT_NS = 1_000_000_000L;
  private static final long SEARCH_REST_NS = 100_000_000L;
  private static final long SEARCH_REST_LONGEST_NS = 5_000_000_000L;
  private static final long MEMORY_NS = 5_000_000_000L;
  private static final int MEMORY_SEARCHES = 32;
  private static final int MEMORY_FOREIGN = 64;

  /** The hub as the guard sees it. */
  interface Ringside {

    /** All connections that hear and speak, cut ones too, in the order in which they came. */
    List<Connection> connections();

    /** Sends a frame down one connection, cut or not, after all that was sent there before. */
    void sendDown(Connection to, CanFrame frame);

    /** Stops the flow of frames. */
    void cut(Connection connection, String why);

    /** Lets frames flow again. */
    void putBack(Connection connection);

    /** Has {@link #wake} called after this time. */
    void wakeAfter(long delayNs);
  }

  private final Ringside hub;
  private final RandomGenerator chance;
  private final RecentFrames recent = new RecentFrames();
  private final ArrayDeque<RingProbe> searches = new ArrayDeque<>();
  private final ArrayDeque<ForeignProbe> foreign = new ArrayDeque<>();
  private final Map<Connection, Cut> cuts = new LinkedHashMap<>();

  private long countSinceNs;
  private int copies;
  private boolean searchedBefore;
  private long searchedNs;
  private long searchRestNs = SEARCH_REST_NS;
  private Optional<Connection> echoing = Optional.empty();
  private int echoes;

  RingGuard(Ringside hub, RandomGenerator chance) {
    this.hub = hub;
    this.chance = chance;
  }

  boolean isCut(Connection connection) {
    return !cuts.isEmpty() && cuts.containsKey(connection);
  }

  /** Looks at a frame before it is forwarded; answers whether it must not be. */
  boolean keeps(Connection from, CanFrame frame, long nowNs) {
    if (RingProbe.isProbe(frame)) {
      return keepsProbe(from, frame, nowNs);
    }
    if (isCut(from)) {
      return true;
    }
    if (recent.isCopy(from, frame, nowNs)) {
      countCopy(nowNs);
    }
    return false;
  }

  private void countCopy(long nowNs) {
    if (nowNs - countSinceNs >= COUNT_NS) {
      countSinceNs = nowNs;
      copies = 0;
    }
    copies++;
    if (copies >= COPIES_SUSPECT && maySearch(nowNs)) {
      search(openConnections(), nowNs);
      searchRestNs = Math.min(2 * searchRestNs, SEARCH_REST_LONGEST_NS);
    }
  }

  private boolean maySearch(long nowNs) {
    long sinceNs = nowNs - searchedNs;
    if (sinceNs >= 2 * SEARCH_REST_LONGEST_NS) {
      searchRestNs = SEARCH_REST_NS;
    }
    return !searchedBefore || sinceNs >= searchRestNs;
  }

  private List<Connection> openConnections() {
    return hub.connections().stream().filter(connection -> !isCut(connection)).toList();
  }

  private void search(List<Connection> asked, long nowNs) {
    RingProbe probe = RingProbe.of(asked, chance, nowNs);
    searches.addFirst(probe);
    if (searches.size() > MEMORY_SEARCHES) {
      searches.removeLast();
    }
    searchedBefore = true;
    searchedNs = nowNs;
    for (int place = 0; place < probe.asked().size(); place++) {
      hub.sendDown(probe.asked().get(place), probe.frameFor(place));
    }
  }

  private boolean keepsProbe(Connection from, CanFrame frame, long nowNs) {
    for (RingProbe search : searches) {
      Optional<Connection> wayOut = search.wayOut(frame);
      if (wayOut.isPresent() && search.ageNs(nowNs) < MEMORY_NS) {
        cameBack(search, wayOut.get(), from, nowNs);
        return true;
      }
    }
    return isCut(from) || keepsForeign(from, frame, nowNs);
  }

  /**
   * A search of another hub passes once, so that it cannot go round itself, unless ours is first.
   */
  private boolean keepsForeign(Connection from, CanFrame frame, long nowNs) {
    for (ForeignProbe known : foreign) {
      if (known.frame.equals(frame) && nowNs - known.heardNs < MEMORY_NS) {
        return known.from != from;
      }
    }
    foreign.addFirst(new ForeignProbe(frame, from, nowNs));
    if (foreign.size() > MEMORY_FOREIGN) {
      foreign.removeLast();
    }
    return !yieldTo(frame, nowNs);
  }

  private boolean yieldTo(CanFrame other, long nowNs) {
    for (RingProbe search : searches) {
      if (!search.isOver() && search.ageNs(nowNs) < PATIENCE_NS) {
        if (!search.yieldsTo(other)) {
          return false;
        }
        search.end();
        searchRestNs = SEARCH_REST_NS;
      }
    }
    return true;
  }

  private void cameBack(RingProbe search, Connection out, Connection in, long nowNs) {
    if (search.isOver()) {
      return;
    }
    search.end();
    searchRestNs = SEARCH_REST_NS;
    Cut tested = cuts.get(out);
    if (tested != null) {
      tested.stillJoined(nowNs);
    } else if (out == in) {
      echoed(in, nowNs);
    } else if (!isCut(in)) {
      cutLastOf(out, in, nowNs);
    }
  }

  private void echoed(Connection connection, long nowNs) {
    boolean again = echoing.isPresent() && echoing.get() == connection;
    echoes = again ? echoes + 1 : 1;
    echoing = Optional.of(connection);
    if (echoes >= ECHOES_PROOF) {
      cut(
          connection,
          "was cut off: it sends back what it is told, as if it ended in a ring",
          nowNs);
    }
  }

  private void cutLastOf(Connection out, Connection in, long nowNs) {
    List<Connection> all = hub.connections();
    Connection last = all.indexOf(out) > all.indexOf(in) ? out : in;
    Connection first = last == out ? in : out;
    cut(last, "was cut off: it forms a ring with " + first.name(), nowNs);
  }

  private void cut(Connection connection, String why, long nowNs) {
    forgetSuspicion();
    searches.forEach(RingProbe::end);
    cuts.put(connection, new Cut(nowNs));
    hub.cut(connection, why);
    wakeInTime(nowNs);
  }

  private void forgetSuspicion() {
    copies = 0;
    echoes = 0;
    echoing = Optional.empty();
  }

  /** A connection is gone: perhaps it was the other way, so the cut ones are tried at once. */
  void gone(Connection connection, long nowNs) {
    cuts.remove(connection);
    if (!cuts.isEmpty()) {
      cuts.values().forEach(cut -> cut.tryAt(nowNs));
      wakeInTime(nowNs);
    }
  }

  /** Does what is due, and asks to be woken for the next. Waking too often is harmless. */
  void wake(long nowNs) {
    for (Map.Entry<Connection, Cut> entry : List.copyOf(cuts.entrySet())) {
      if (entry.getValue().nextNs - nowNs <= 0) {
        tryCut(entry.getKey(), entry.getValue(), nowNs);
      }
    }
    wakeInTime(nowNs);
  }

  private void tryCut(Connection connection, Cut cut, long nowNs) {
    if (cut.test.filter(test -> !test.isOver()).isPresent()) {
      cuts.remove(connection);
      hub.putBack(connection);
      return;
    }
    search(List.of(connection), nowNs);
    cut.test = Optional.of(searches.getFirst());
    cut.nextNs = nowNs + PATIENCE_NS;
  }

  private void wakeInTime(long nowNs) {
    cuts.values().stream()
        .mapToLong(cut -> Math.max(0, cut.nextNs - nowNs))
        .min()
        .ifPresent(hub::wakeAfter);
  }

  private record ForeignProbe(CanFrame frame, Connection from, long heardNs) {}

  /** How long a connection stays cut; rests vary by chance, so that two hubs do not try as one. */
  private final class Cut {
    private long restNs = FIRST_REST_NS;
    private long nextNs;

    /** The search on its way down the cut connection. */
    private Optional<RingProbe> test = Optional.empty();

    Cut(long nowNs) {
      rest(nowNs);
    }

    private void rest(long nowNs) {
      test = Optional.empty();
      nextNs = nowNs + restNs / 4 * 3 + chance.nextLong(restNs / 2);
    }

    void stillJoined(long nowNs) {
      restNs = Math.min(2 * restNs, LONGEST_REST_NS);
      rest(nowNs);
    }

    void tryAt(long nowNs) {
      test = Optional.empty();
      nextNs = nowNs;
    }
  }
}
