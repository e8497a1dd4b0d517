package tappet.simulator;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Predicate;
import tappet.layout.LampProving;
import tappet.layout.Light;
import tappet.layout.Lights;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;

/**
 * A signal whose lamps are switched one by one, and what an engineer makes of its lights.
 *
 * <p>A lamp that goes out and comes on again within {@value #BLINK_NS} ns is seen to flash, until
 * it has burnt steadily for {@value #STEADY_NS} ns. So long a head whose lamps have all been put
 * out is not yet seen to be dark.
 */
final class LampPost {

  static final long BLINK_NS = 1_000_000_000L;
  static final long STEADY_NS = 2_000_000_000L;

  /** What a lamp is told to do. */
  enum State {
    DARK,
    LIT,
    FLASHING
  }

  private final Lights lights;
  private final Map<SignalLamp, State> states = new HashMap<>();
  private final Map<SignalLamp, Long> wentOutNs = new HashMap<>();
  private final Map<SignalLamp, Long> blinkedNs = new HashMap<>();
  private final Set<LampProving> burntOut = new HashSet<>();
  private String aspect = Signal.STOP;
  private long nowNs;

  /** A signal without any light. */
  LampPost(Lights lights) {
    this.lights = lights;
    lights.lamps().forEach(lamp -> states.put(lamp, State.DARK));
  }

  State state(SignalLamp lamp) {
    return states.get(lamp);
  }

  void told(SignalLamp lamp, State state, long nowNs) {
    this.nowNs = nowNs;
    State before = states.put(lamp, state);
    if (state == State.DARK && before != State.DARK) {
      wentOutNs.put(lamp, nowNs);
    }
    if (state == State.LIT && before == State.DARK && isWithin(BLINK_NS, wentOutNs.get(lamp))) {
      blinkedNs.put(lamp, nowNs);
    }
    look();
  }

  /** These lamps lose their power, until they are told to shine again. */
  void lose(Predicate<SignalLamp> those, long nowNs) {
    this.nowNs = nowNs;
    lights.lamps().stream()
        .filter(those)
        .filter(lamp -> states.get(lamp) != State.DARK)
        .forEach(lamp -> states.put(lamp, State.DARK));
    look();
  }

  /** These lamps shine for Stop, or are dark. */
  void showStop(Predicate<SignalLamp> those, long nowNs) {
    List<SignalLamp> shining = lights.shiningFor(Signal.STOP);
    lights.lamps().stream()
        .filter(those)
        .forEach(lamp -> told(lamp, shining.contains(lamp) ? State.LIT : State.DARK, nowNs));
  }

  /** A lamp that can be proved burns out, or a new one is put in. */
  LampProving burnOut(String id, boolean out, long nowNs) {
    this.nowNs = nowNs;
    LampProving lamp =
        lights.provings().stream().filter(known -> known.id().equals(id)).findFirst().orElseThrow();
    if (out) {
      burntOut.add(lamp);
    } else {
      burntOut.remove(lamp);
    }
    look();
    return lamp;
  }

  boolean isOut(LampProving lamp) {
    return burntOut.contains(lamp);
  }

  /** The aspect that an engineer reads, who reads a dark head as the layout's looks say. */
  String aspect() {
    return aspect;
  }

  /** Looks again if a blink is over; true if the signal looks other than before. */
  boolean advance(long nowNs) {
    this.nowNs = nowNs;
    String before = aspect;
    look();
    return !aspect.equals(before);
  }

  /** When the next blink is over. */
  OptionalLong deadlineNs() {
    OptionalLong first = OptionalLong.empty();
    for (SignalLamp lamp : lights.lamps()) {
      first = Deadlines.earlier(first, end(BLINK_NS, wentOutNs.get(lamp)));
      first = Deadlines.earlier(first, end(STEADY_NS, blinkedNs.get(lamp)));
    }
    return first;
  }

  private OptionalLong end(long spanNs, Long beginNs) {
    return isWithin(spanNs, beginNs) ? OptionalLong.of(beginNs + spanNs) : OptionalLong.empty();
  }

  private boolean isWithin(long spanNs, Long beginNs) {
    return beginNs != null && nowNs < beginNs + spanNs;
  }

  private void look() {
    List<Light> seen = new ArrayList<>();
    for (int head = 0; head < lights.looks().heads(); head++) {
      seen.add(seen(head));
    }
    boolean nothing = seen.stream().allMatch(Light.DARK::equals);
    aspect = nothing ? Wiring.DARK : lights.looks().read(seen);
  }

  /** Two lamps of one head at once are no light that anyone knows. */
  private Light seen(int head) {
    List<Light> shining =
        lights.lamps().stream()
            .filter(lamp -> lamp.head() == head)
            .flatMap(lamp -> seen(lamp).stream())
            .toList();
    return shining.size() == 1 ? shining.get(0) : afterglow(head);
  }

  /** What a head showed whose lamps have only just been put out. */
  private Light afterglow(int head) {
    List<SignalLamp> lamps = lights.lamps().stream().filter(lamp -> lamp.head() == head).toList();
    boolean allPutOut = lamps.stream().allMatch(lamp -> states.get(lamp) == State.DARK);
    return lamps.stream()
        .filter(lamp -> allPutOut && !isOut(lamp))
        .filter(lamp -> isWithin(BLINK_NS, wentOutNs.get(lamp)))
        .max(Comparator.comparing(wentOutNs::get))
        .map(this::lightOf)
        .orElse(Light.DARK);
  }

  private Optional<Light> seen(SignalLamp lamp) {
    boolean dark = states.get(lamp) == State.DARK || isOut(lamp);
    return dark ? Optional.empty() : Optional.of(lightOf(lamp));
  }

  private Light lightOf(SignalLamp lamp) {
    boolean flashing =
        states.get(lamp) == State.FLASHING || isWithin(STEADY_NS, blinkedNs.get(lamp));
    return flashing ? Light.flashing(lamp.colour()) : Light.steady(lamp.colour());
  }

  private boolean isOut(SignalLamp lamp) {
    return lamp.proving().filter(burntOut::contains).isPresent();
  }
}
