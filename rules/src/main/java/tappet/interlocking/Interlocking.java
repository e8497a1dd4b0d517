package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Explanation;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;
import tappet.network.Timers;
import tappet.network.Variable;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;

/**
 * A layout's interlocking: one network, stepped by what the field reports, what people ask and the
 * passing of time.
 *
 * <p>Nothing but the inputs and their times decides what it does. Times are in nanoseconds of any
 * clock that never runs back. One thread at a time may use it.
 */
public final class Interlocking {

  private final Layout layout;
  private final Circuits circuits;
  private final Stepper stepper;
  private final Timers timers;
  private final Outlets outlets;
  private final Requests requests;
  private final ProtectionRegister register;
  private final ProtectionRequests protecting;
  private final Why why;
  private final PictureTaker pictures;
  private final StandingRequests standingRequests = new StandingRequests();
  private final StandingAlarms standingAlarms = new StandingAlarms();

  /** By signal: the aspect the field was last told. */
  private final Map<String, String> showing = new LinkedHashMap<>();

  /** By signal: what its lights were last told, an aspect or nothing at all. */
  private final Map<String, Optional<String>> lit = new LinkedHashMap<>();

  private final Stepper.ChangeListener watcher;
  private boolean begun;

  /**
   * Compiles a control table and starts with nothing known: every signal at Stop, nothing called.
   *
   * @throws tappet.network.CircularEquationException if the owner's needs ask signals for each
   *     other in a circle
   */
  public Interlocking(Layout layout, ControlTable table) {
    this(layout, table, UnaryOperator.identity(), (variable, value) -> {});
  }

  /**
   * The same under watch.
   *
   * @param watched sets watches on the network that was compiled: it may add to it, and change
   *     nothing
   * @param watcher hears each change of a variable, of those that watch too
   */
  public Interlocking(
      Layout layout,
      ControlTable table,
      UnaryOperator<Network> watched,
      Stepper.ChangeListener watcher) {
    this(new Circuits(layout, table), watched, watcher);
  }

  /** The same for a control table that is compiled already. */
  public Interlocking(
      Compiled compiled, UnaryOperator<Network> watched, Stepper.ChangeListener watcher) {
    this(compiled.circuits, watched, watcher);
  }

  private Interlocking(
      Circuits circuits, UnaryOperator<Network> watched, Stepper.ChangeListener watcher) {
    this.layout = circuits.layout;
    this.watcher = watcher;
    this.circuits = circuits;
    Network network = watched.apply(circuits.built());
    this.stepper = new Stepper(network);
    this.timers = new Timers(network);
    this.outlets = new Outlets(circuits, network, standingRequests, standingAlarms);
    this.register = new ProtectionRegister(circuits.protections);
    this.why = new Why(circuits, stepper, timers, register);
    this.pictures = new PictureTaker(circuits, stepper, timers, why.track.holders);
    this.requests = new Requests(circuits, stepper, register, why, standingRequests);
    this.protecting = new ProtectionRequests(circuits, stepper, register, why);
    layout.signals().keySet().forEach(id -> showing.put(id, Signal.STOP));
    layout.signals().keySet().forEach(id -> lit.put(id, Optional.of(Signal.STOP)));
  }

  /** The layout it works. */
  public Layout layout() {
    return layout;
  }

  /** The rules that it was made of. */
  public ControlTable table() {
    return circuits.table;
  }

  /** The network it runs on. */
  public Network network() {
    return stepper.network();
  }

  /**
   * Lays on the protection of people that stood when the interlocking was last worked. It is in
   * force from the first step on, before anything has been heard.
   *
   * @throws IllegalStateException if the interlocking has been started
   */
  public void restore(KeptProtections kept) {
    if (begun) {
      throw new IllegalStateException("protections are laid on before the start");
    }
    protecting.restore(kept);
  }

  /**
   * Who had hand-thrown switches when the interlocking was last worked, by switch. No lock opens by
   * that; but none that is not found secured is released to somebody else.
   *
   * @throws IllegalStateException if the interlocking has been started
   */
  public void restoreReleases(Map<String, String> holders) {
    if (begun) {
      throw new IllegalStateException("who had switches is laid on before the start");
    }
    why.track.holders.restore(
        holders.entrySet().stream()
            .filter(held -> circuits.locks.containsKey(held.getKey()))
            .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue)));
  }

  /** The first step: every signal is put to Stop and the time since the start begins to run. */
  public Step start(long nowNs) {
    begun = true;
    Outcome outcome = outcome();
    settle(outcome, nowNs);
    List<Output> outputs = new ArrayList<>();
    showing.keySet().forEach(id -> outputs.add(new Output.Show(id, Signal.STOP)));
    outputs.addAll(circuits.lineside.standing(stepper));
    List<String> changes = new ArrayList<>(alarms());
    register.all().forEach(held -> changes.add(held.wholeStory() + " still stands"));
    return new Step(outputs, changes, Optional.empty());
  }

  /**
   * Takes the place of another one, with all that it has been told and remembers; nothing is told
   * to anybody.
   *
   * @param standing what each input and latch is to start from
   */
  void takeOver(Interlocking before, Predicate<Variable> standing, long nowNs) {
    stepper.goOn(standing);
    timers.goOn(before.timers, stepper, nowNs);
    register.goOn(before.register);
    why.track.holders.goOn(before.why.track.holders);
    standingRequests.goOn(before.standingRequests, circuits.routes);
    outlets.alarms().forEach(alarm -> standingAlarms.follow(alarm, stepper.value(alarm)));
    showing.replaceAll((id, shown) -> before.showing.getOrDefault(id, shown));
    lit.replaceAll((id, shown) -> before.lit.getOrDefault(id, shown));
    begun = true;
  }

  /** What it is made of and how that stands, for whoever compares it with another one. */
  Circuits circuits() {
    return circuits;
  }

  boolean value(Variable variable) {
    return stepper.value(variable);
  }

  boolean runs(Timer timer) {
    return timer.isRunning(stepper);
  }

  /** What lamps and crossings are to show now. */
  List<Output> standing() {
    return circuits.lineside.standing(stepper);
  }

  /** The aspect of a signal as the network has it now. */
  String aspectMeant(SignalCircuit signal) {
    return Outlets.aspect(signal, stepper);
  }

  boolean isMeantToBeDark(SignalCircuit signal) {
    return outlets.isDark(signal, stepper);
  }

  /** Somebody lights the lights of a signal that shows Stop. */
  void light(String signal) {
    lit.put(signal, Optional.of(Signal.STOP));
  }

  /** Lets time pass, and then takes one input. */
  public Step step(Input input, long nowNs) {
    Outcome outcome = outcome();
    letTimePass(outcome, nowNs);
    Optional<Answer> answer = take(input, outcome, nowNs);
    return outcome.step(stepper, answer);
  }

  /** Lets time pass. */
  public Step advance(long nowNs) {
    Outcome outcome = outcome();
    letTimePass(outcome, nowNs);
    return outcome.step(stepper, Optional.empty());
  }

  /** When {@link #advance} is next needed. */
  public OptionalLong deadlineNs() {
    return timers.nextNs();
  }

  /**
   * Why a device or a route is as it is.
   *
   * @param name the id of a signal, switch, section or route, or the name of a network variable
   * @return empty if there is nothing of that name
   */
  public Optional<Explanation> why(String name, long nowNs) {
    return why.of(name, nowNs);
  }

  /** Every name that {@link #why} knows, without those of the network's variables. */
  public List<String> names() {
    return why.names();
  }

  /** The aspect a signal shows now. */
  public String aspect(String signal) {
    return showing.get(signal);
  }

  /** Whether a signal's lights are out because no train can see them. */
  public boolean dark(String signal) {
    return lit.get(signal).isEmpty();
  }

  /** What is known of a section now. */
  public Occupancy occupancy(String section) {
    return pictures.occupancy(circuits.section(section));
  }

  /** The position a switch is detected in now. */
  public Optional<Position> position(String switchId) {
    return pictures.position(circuits.toe(switchId));
  }

  /** Whether anything is locked by a route, or its automatic signal is called. */
  public boolean routeLocked(String route) {
    return stepper.value(circuits.lockedBy(route));
  }

  /** All that people see, as it is now. */
  public Picture picture() {
    return pictures.take(showing::get, this::dark, register.all());
  }

  /**
   * Whether a route could be lined now from a signal to where it leads; nothing is done.
   *
   * @return empty if no route that is lined leads there
   */
  public Optional<Candidate> candidate(String from, String to, long nowNs) {
    return requests.candidate(from, to, nowNs);
  }

  /** What is taken to be so because nothing on the layout could tell, in the owner's words. */
  public List<String> assumptions() {
    return Assumptions.of(layout);
  }

  /** Who is protected, where and why, in the order in which it was given. */
  public List<Protection> protections() {
    return register.all();
  }

  /** Who has hand-thrown switches, or is to have them, by switch; without those without a name. */
  public Map<String, String> releases() {
    Map<String, String> held = new LinkedHashMap<>();
    circuits.locks.forEach(
        (id, lock) ->
            why.track
                .holding(lock)
                .flatMap(any -> why.track.holders.of(id))
                .ifPresent(name -> held.put(id, name)));
    return held;
  }

  /**
   * The orders to electric locks that still hold, for boards that may not have heard them. To hold
   * a switch is always right once it has been said. To let it go is only said again where nothing
   * has come to stand against it.
   */
  public List<Output.Lock> lockOrders() {
    return circuits.locks.values().stream().flatMap(lock -> lock.order(stepper).stream()).toList();
  }

  /** What must be known of the protection of people after a restart. */
  public KeptProtections kept() {
    return new KeptProtections(register.all(), register.doubts());
  }

  /** What {@link #kept} would be if a command were carried out. */
  public KeptProtections keptAfter(Command.EndProtection command) {
    return register.after(command);
  }

  /** What a person must see to now, in the owner's words. */
  public List<String> alarms() {
    return standingAlarms.all().stream().map(alarm -> register.words(alarm, true)).toList();
  }

  private Optional<Answer> take(Input input, Outcome outcome, long nowNs) {
    if (input instanceof Input.Request request) {
      Requests.Pending pending =
          protecting.lay(request, nowNs).orElseGet(() -> requests.lay(request.command(), nowNs));
      settle(outcome, nowNs);
      Answer answer = pending.answer(nowNs);
      if (answer.granted() && request.command() instanceof Command.OfProtection) {
        outcome.tell(answer.explanation().clause());
      }
      return Optional.of(answer);
    }
    if (input instanceof Input.SectionReport report) {
      lay(report);
    } else if (input instanceof Input.SwitchReport report) {
      lay(report);
    } else if (input instanceof Input.LampReport report) {
      lay(report);
    } else if (input instanceof Input.SwitchAsked asked) {
      lay(asked);
    } else if (input instanceof Input.LockReport report) {
      lay(report);
    } else if (input instanceof Input.EmergencyReport report) {
      lay(report);
    } else if (input instanceof Input.ClockReport report) {
      circuits.clock.lay(report.minuteOfDay(), stepper);
    } else if (input instanceof Input.OfLineside report) {
      circuits.lineside.lay(report, stepper);
    }
    settle(outcome, nowNs);
    return Optional.empty();
  }

  private void lay(Input.SectionReport report) {
    SectionCircuit section = circuits.section(report.section());
    stepper.set(section.reported, report.occupancy() != Occupancy.UNKNOWN);
    stepper.set(section.occupied, report.occupancy() == Occupancy.OCCUPIED);
  }

  private void lay(Input.SwitchReport report) {
    circuits.toe(report.switchId()).lay(report.position(), stepper);
  }

  private void lay(Input.SwitchAsked asked) {
    circuits
        .toe(asked.switchId())
        .motor
        .ifPresent(motor -> stepper.pulse(motor.asked(asked.position())));
  }

  private void lay(Input.LockReport report) {
    circuits.locks.get(report.switchId()).lay(report.state(), stepper);
    if (report.state().equals(Optional.of(LockState.SECURED))) {
      why.track.holders.foundSecured(report.switchId());
    }
  }

  private void lay(Input.LampReport report) {
    SignalLampCircuit lamps = circuits.signal(report.signal()).lamps;
    lamps.known(report.lamp()).ifPresent(known -> stepper.set(known, report.works().isPresent()));
    lamps
        .failed(report.lamp())
        .ifPresent(failed -> stepper.set(failed, report.works().equals(Optional.of(false))));
  }

  private void lay(Input.EmergencyReport report) {
    EmergencyCircuit emergency = circuits.emergencies.get(report.kind());
    stepper.pulse(report.stands() ? emergency.called : emergency.cleared);
  }

  /** Each time that is due runs out at its own moment, so that late waking changes nothing. */
  private void letTimePass(Outcome outcome, long nowNs) {
    for (OptionalLong due = timers.nextNs();
        due.isPresent() && due.getAsLong() <= nowNs;
        due = timers.nextNs()) {
      stepper.pulse(timers.takeDue(nowNs).orElseThrow().runsOut());
      settle(outcome, due.getAsLong());
    }
  }

  /** Lets the network settle, and then lays on what has been waiting for it, one at a time. */
  private void settle(Outcome outcome, long nowNs) {
    settleOnce(outcome, nowNs);
    for (Optional<RouteCircuit> ready = standingRequests.ready(stepper);
        ready.isPresent();
        ready = standingRequests.ready(stepper)) {
      stepper.pulse(ready.get().asked);
      settleOnce(outcome, nowNs);
    }
  }

  private void settleOnce(Outcome outcome, long nowNs) {
    stepper.step(
        (variable, value) -> {
          timers.follow(variable, value, nowNs);
          outlets.follow(variable, value, outcome);
          watcher.changed(variable, value);
        });
    outcome.takePresses().forEach(press -> ask(press, outcome, nowNs));
  }

  /** A button asks as a person would, one after the other, and its lamps tell the answer. */
  private void ask(LinesideCircuits.Press press, Outcome outcome, long nowNs) {
    Requests.Pending pending = requests.lay(press.asked().command(), nowNs);
    settle(outcome, nowNs);
    Answer answer = pending.answer(nowNs);
    outcome.tell(
        "%s asks '%s': %s"
            .formatted(
                Naming.device(press.button().button),
                press.asked().sentence(),
                Requests.inOneLine(answer)));
    stepper.pulse(answer.granted() ? press.button().granted : press.button().refused);
    settle(outcome, nowNs);
  }

  private Outcome outcome() {
    return new Outcome(outlets, showing, lit);
  }
}
