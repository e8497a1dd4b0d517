package tappet.bridge.field;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Predicate;
import tappet.layout.SignalLamp;
import tappet.lcc.EventId;

/**
 * Flashes the lamps whose boards cannot do so themselves: {@value #HALF_NS} ns lit and as long
 * dark, 40 flashes a minute (common practice is 35 to 65; from memory).
 *
 * <p>However many lamps flash, an event is sent no sooner than {@value #APART_NS} ns after the one
 * before: 40 a second, about a twentieth of what the bus carries. Beyond 30 lamps they flash the
 * slower for it.
 */
final class Flasher {

  static final long HALF_NS = 750_000_000L;
  static final long APART_NS = 25_000_000L;

  /** The next change of a lamp. */
  private record Change(SignalLamp lamp, boolean toLit, long dueNs) {

    EventId event() {
      return toLit ? lamp.lit() : lamp.dark();
    }
  }

  private final Map<SignalLamp, Change> changes = new LinkedHashMap<>();
  private long freeNs = Long.MIN_VALUE;

  /** Whether a lamp flashes. */
  boolean flashes(SignalLamp lamp) {
    return changes.containsKey(lamp);
  }

  /** Lets a lamp flash, which has just been lit, or lets it be. */
  void turn(SignalLamp lamp, boolean flash, long nowNs) {
    if (flash) {
      changes.put(lamp, new Change(lamp, false, nowNs + HALF_NS));
    } else {
      changes.remove(lamp);
    }
  }

  /** Another one in which these of the lamps flash on. */
  Flasher keeping(Predicate<SignalLamp> lamps) {
    Flasher flasher = new Flasher();
    flasher.freeNs = freeNs;
    changes.values().stream()
        .filter(change -> lamps.test(change.lamp()))
        .forEach(change -> flasher.changes.put(change.lamp(), change));
    return flasher;
  }

  /** The event that is due, if one is: at most one at a time. */
  List<EventId> due(long nowNs) {
    List<EventId> events = new ArrayList<>();
    next()
        .filter(change -> nowNs >= Math.max(change.dueNs(), freeNs))
        .ifPresent(
            change -> {
              events.add(change.event());
              freeNs = nowNs + APART_NS;
              changes.put(
                  change.lamp(), new Change(change.lamp(), !change.toLit(), nowNs + HALF_NS));
            });
    return events;
  }

  /** When {@link #due} has something to give. */
  OptionalLong nextNs() {
    return next().stream().mapToLong(change -> Math.max(change.dueNs(), freeNs)).findFirst();
  }

  /** Of changes that are due together, that of the lamp that began to flash first. */
  private Optional<Change> next() {
    return changes.values().stream().min(Comparator.comparingLong(Change::dueNs));
  }
}
