package tappet.interlocking;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Signal;
import tappet.network.Variable;
import tappet.source.Place;

/**
 * One interlocking takes the place of another while trains run (49 CFR 236.4, from memory: nobody
 * interferes with the working of a device before the safety of trains is seen to).
 *
 * <p>What has changed must be at rest: no route that has changed, or that depends on something that
 * has, is locked, waits or is being cancelled; their signals are at Stop; no time runs; nobody is
 * protected by it. All the rest goes on as it stands, since its equations say the same as before.
 * Then the new network is laid out with all that the old one remembers, and must be content with
 * it: no latch of both may change, and nothing that any device is told.
 *
 * <p>What is proven of the new rules is proven of all that they come to by themselves. With what
 * has changed at rest the rest of the railroad stands as it would have come to stand under the new
 * rules, had nobody used what has changed.
 */
public final class Succession {

  private static final String OVERTAKEN = "other files have taken over in between; try again";

  private final Interlocking before;
  private final Interlocking after;
  private final Devices devices;
  private final boolean signalsAreWiredAnew;

  /**
   * Something that stands against it.
   *
   * @param words it as a clause, which names the device
   * @param place where the device stands in the owner's files
   * @param passes whether it may pass without anybody editing a file
   */
  public record Reason(String words, Optional<Place> place, boolean passes) {

    /** One that no device stands for, and that may pass. */
    public static Reason passing(String words) {
      return new Reason(words, Optional.empty(), true);
    }

    /** One that no device stands for, and that stands until somebody does something. */
    public static Reason lasting(String words) {
      return new Reason(words, Optional.empty(), false);
    }

    @Override
    public String toString() {
      return place.map(where -> where + ": ").orElse("") + words;
    }
  }

  /**
   * What came of a try.
   *
   * @param against what stands against it; then nothing has happened
   * @param step what the field is told, where nothing stands against it
   */
  public record Attempt(List<Reason> against, Optional<Step> step) {
    public Attempt {
      against = List.copyOf(against);
    }

    /** One that nobody's waiting helps. */
    public static Attempt impossible(String why) {
      return new Attempt(List.of(Reason.lasting(why)), Optional.empty());
    }
  }

  /**
   * Compares the two. That takes its time, and may be done by any thread.
   *
   * @param before runs, or will when it is tried
   * @param after has not been started
   */
  public Succession(Interlocking before, Interlocking after) {
    this.before = before;
    this.after = after;
    this.devices = new Devices(before, after);
    this.signalsAreWiredAnew =
        after.layout().signals().keySet().stream()
            .anyMatch(id -> devices.isRewired(Naming.SIGNAL + id));
  }

  /** The interlocking that takes the place. */
  public Interlocking after() {
    return after;
  }

  /** All that is new, has changed or is gone. */
  public List<ChangedDevice> changes() {
    return List.copyOf(devices.changed().values());
  }

  /**
   * Lets it take the place, if nothing stands against it. The one that runs is only looked at:
   * where something does stand against it, or this throws, it goes on as if nothing had been.
   *
   * @param running what runs now
   */
  public Attempt attempt(Interlocking running, long nowNs) {
    if (running != before) {
      return Attempt.impossible(OVERTAKEN);
    }
    List<Reason> against = new ArrayList<>(new InUse(before, devices).all());
    if (!against.isEmpty()) {
      return new Attempt(against, Optional.empty());
    }
    after.takeOver(before, this::standing, nowNs);
    against.addAll(latchesThatChange());
    against.addAll(ordersThatChange());
    Map<String, Output> told = new LinkedHashMap<>();
    against.addAll(signalsThatChange(told));
    against.addAll(lampsThatChange(told));
    return against.isEmpty()
        ? new Attempt(List.of(), Optional.of(step(told.values())))
        : new Attempt(against, Optional.empty());
  }

  /**
   * What is heard in another way has not been heard yet. After signals have been wired anew nobody
   * knows what trains have seen of them: the time since the start runs once more.
   */
  private boolean standing(Variable variable) {
    String device = Naming.deviceOf(variable.name());
    boolean anew =
        devices.isRewired(device) || (signalsAreWiredAnew && device.equals(Naming.START));
    Optional<Variable> old = before.network().find(variable.name());
    if (variable.kind() == Variable.Kind.INPUT) {
      return !anew && old.map(before::value).orElse(false);
    }
    boolean initially = after.network().latches().get(variable).initially();
    return (anew && initially) || old.map(before::value).orElse(initially);
  }

  private List<Reason> latchesThatChange() {
    List<Reason> reasons = new ArrayList<>();
    for (Variable latch : after.network().latches().keySet()) {
      Optional<Variable> old = before.network().find(latch.name());
      boolean changes = old.isPresent() && before.value(old.get()) != after.value(latch);
      String device = Naming.deviceOf(latch.name());
      boolean anew = devices.isRewired(device) || device.equals(Naming.START);
      if (changes && !anew) {
        String words = latch.words().when(after.value(latch));
        reasons.add(wouldChange(device, words.isEmpty() ? latch.name() : words));
      }
    }
    return reasons;
  }

  /**
   * A signal whose rules have changed is at Stop. It is lit if it is to be seen from now on, and if
   * it has not been told anything by its events; and it stays lit until a train has come and gone
   * if it is to be dark.
   */
  private List<Reason> signalsThatChange(Map<String, Output> told) {
    List<Reason> reasons = new ArrayList<>();
    for (SignalCircuit signal : after.circuits().signals.values()) {
      String id = signal.signal.id();
      String device = Naming.SIGNAL + id;
      boolean hasChanged = devices.changed().containsKey(device);
      boolean stops = after.aspectMeant(signal).equals(Signal.STOP);
      boolean sameLight = after.isMeantToBeDark(signal) == after.dark(id);
      if (!after.aspectMeant(signal).equals(after.aspect(id)) || (!sameLight && !hasChanged)) {
        reasons.add(wouldChange(device, device + " shows something else"));
      } else if (stops && (devices.isRewired(device) || (!sameLight && after.dark(id)))) {
        after.light(id);
        told.put(device, new Output.Show(id, Signal.STOP));
      }
    }
    return reasons;
  }

  /** Orders to move, which are given when their variable becomes true. */
  private List<Reason> ordersThatChange() {
    List<Reason> reasons = new ArrayList<>();
    after
        .circuits()
        .orders()
        .forEach(
            order -> {
              boolean stood = before.network().find(order.name()).map(before::value).orElse(false);
              if (after.value(order) && !stood) {
                reasons.add(wouldChange(Naming.deviceOf(order.name()), order.name()));
              }
            });
    return reasons;
  }

  /** Lamps whose rule has changed may be lit or go out, and roads may be warned. */
  private List<Reason> lampsThatChange(Map<String, Output> told) {
    Map<String, Output> shown = byDevice(before);
    List<Reason> reasons = new ArrayList<>();
    byDevice(after)
        .forEach(
            (device, output) -> {
              boolean same = output.equals(shown.get(device));
              boolean hasChanged = devices.changed().containsKey(device);
              boolean rests = output instanceof Output.Warn warn && !warn.warns();
              boolean worse = rests && shown.containsKey(device) && !same;
              if (!same && (!hasChanged || worse)) {
                reasons.add(wouldChange(device, device + " shows something else"));
              } else if (!same || devices.isRewired(device)) {
                told.put(device, output);
              }
            });
    return reasons;
  }

  private static Map<String, Output> byDevice(Interlocking of) {
    Map<String, Output> told = new HashMap<>();
    var lineside = of.layout().lineside();
    for (Output output : of.standing()) {
      String device =
          output instanceof Output.Light light
              ? lineside.lamps().get(light.lamp()).key()
              : lineside.crossings().get(((Output.Warn) output).crossing()).key();
      told.put(device, output);
    }
    return told;
  }

  private Reason wouldChange(String device, String words) {
    return new Reason("at once it would be so that " + words, devices.place(device), true);
  }

  private static Step step(Collection<Output> told) {
    return new Step(List.copyOf(told), List.of("new rules are in force"), Optional.empty());
  }
}
