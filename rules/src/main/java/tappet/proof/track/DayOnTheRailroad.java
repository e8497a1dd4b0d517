package tappet.proof.track;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.PowerDistrict;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.proof.Happenings;

/**
 * People ask for anything, trains run wherever track leads, boards answer, and now and then
 * something fails.
 */
final class DayOnTheRailroad implements Happenings {

  /** So seldom, of all commands but those for routes, one is the first of many. */
  private static final int EVERYWHERE_ONE_IN = 100;

  /** What is ended by a pulse, and whether it goes on. */
  private record Ending(Variable pulse, Variable state) {}

  private final Layout layout;
  private final Network network;
  private final List<String> sections;
  private final List<Switch> switches;
  private final Map<String, Set<String>> beside;
  private final List<Variable> routesAsked;
  private final List<Variable> otherCommands;
  private final List<Ending> endings;
  private final List<Variable> inputs;
  private final Set<String> occupied = new HashSet<>();

  /** How many commands come at once before anything else happens. */
  private int commandsToCome;

  DayOnTheRailroad(TrackPlan plan, Network network) {
    this.layout = plan.layout();
    this.network = network;
    this.sections = List.copyOf(layout.sections().keySet());
    this.switches = List.copyOf(layout.switches().values());
    this.beside = new HashMap<>();
    this.routesAsked = new ArrayList<>();
    this.otherCommands = new ArrayList<>();
    this.endings = new ArrayList<>();
    sections.forEach(section -> beside.put(section, beside(section, plan)));
    Set<Variable> ends = network.timers().stream().map(Timer::runsOut).collect(Collectors.toSet());
    for (Variable variable : network.variables()) {
      if (variable.kind() == Variable.Kind.PULSE && !ends.contains(variable)) {
        sort(variable);
      }
    }
    this.inputs =
        network.variables().stream()
            .filter(variable -> variable.kind() == Variable.Kind.INPUT)
            .toList();
  }

  private DayOnTheRailroad(DayOnTheRailroad other) {
    this.layout = other.layout;
    this.network = other.network;
    this.sections = other.sections;
    this.switches = other.switches;
    this.beside = other.beside;
    this.routesAsked = other.routesAsked;
    this.otherCommands = other.otherCommands;
    this.endings = other.endings;
    this.inputs = other.inputs;
  }

  private static Set<String> beside(String section, TrackPlan plan) {
    return plan.tracksIn(section).stream()
        .flatMap(track -> Stream.of(track.from(), track.to()))
        .flatMap(joint -> plan.tracksAt(joint).stream())
        .map(Track::section)
        .filter(other -> !other.equals(section))
        .collect(Collectors.toSet());
  }

  @Override
  public Happenings again() {
    return new DayOnTheRailroad(this);
  }

  private void sort(Variable pulse) {
    String name = pulse.name();
    if (name.startsWith("route ") && name.endsWith(": asked")) {
      routesAsked.add(pulse);
    } else if (name.endsWith(" ended")
        || name.endsWith(": cleared")
        || name.endsWith("confirmed")) {
      network.find(stateEndedBy(name)).ifPresent(state -> endings.add(new Ending(pulse, state)));
    } else {
      otherCommands.add(pulse);
    }
  }

  private static String stateEndedBy(String ending) {
    return ending.endsWith(" ended")
        ? ending.substring(0, ending.length() - " ended".length())
        : ending.replace(": cleared", ": stands").replace(": confirmed", ": in doubt");
  }

  @Override
  public void begin(Stepper stepper) {
    occupied.clear();
    commandsToCome = 0;
    for (PowerDistrict district : layout.lineside().districts().values()) {
      set(district.key() + ": known tripped", true, stepper);
      set(district.key() + ": detected restored", true, stepper);
    }
    stepper.step((variable, value) -> {});
    for (String section : sections) {
      network.find("section " + section + ": reported").ifPresent(in -> stepper.set(in, true));
      network
          .find("section " + section + ": known")
          .filter(known -> known.kind() == Variable.Kind.INPUT)
          .ifPresent(in -> stepper.set(in, true));
    }
    layout
        .lineside()
        .openings()
        .values()
        .forEach(
            opening -> {
              set(opening.key() + ": known closed", true, stepper);
              set(opening.key() + ": detected closed", true, stepper);
              set(opening.key() + ": known locked", true, stepper);
              set(opening.key() + ": detected locked", true, stepper);
            });
    for (Switch toe : layout.switches().values()) {
      lie(toe, Position.NORMAL, stepper);
      set("lock " + toe.id() + ": detected secured", true, stepper);
    }
  }

  @Override
  public void next(Stepper stepper, SplittableRandom chance) {
    if (commandsToCome > 0) {
      commandsToCome--;
      stepper.pulse(oneOf(otherCommands, chance));
      return;
    }
    int what = chance.nextInt(100);
    if (what < 30) {
      letTimeRunOut(stepper, chance);
    } else if (what < 50 && !routesAsked.isEmpty()) {
      stepper.pulse(oneOf(routesAsked, chance));
    } else if (what < 57) {
      command(stepper, chance);
    } else if (what < 65) {
      end(stepper, chance);
    } else if (what < 80) {
      moveTrain(stepper, chance);
    } else if (what < 98) {
      answer(stepper, chance);
    } else {
      Variable input = inputs.get(chance.nextInt(inputs.size()));
      stepper.set(input, !stepper.value(input));
    }
  }

  /** Seldom people come everywhere at once: what they ask for has all been seen together then. */
  private void command(Stepper stepper, SplittableRandom chance) {
    stepper.pulse(oneOf(otherCommands, chance));
    if (chance.nextInt(EVERYWHERE_ONE_IN) == 0) {
      commandsToCome = otherCommands.size();
    }
  }

  private static <T> T oneOf(List<T> things, SplittableRandom chance) {
    return things.get(chance.nextInt(things.size()));
  }

  /** What keeps everything at rest is ended soon. */
  private void end(Stepper stepper, SplittableRandom chance) {
    List<Ending> useful = new ArrayList<>();
    for (Ending ending : endings) {
      if (stepper.value(ending.state())) {
        useful.add(ending);
      }
    }
    if (!useful.isEmpty()) {
      stepper.pulse(oneOf(useful, chance).pulse());
    }
  }

  private void letTimeRunOut(Stepper stepper, SplittableRandom chance) {
    List<Timer> running = new ArrayList<>();
    for (Timer timer : network.timers()) {
      if (timer.isRunning(stepper)) {
        running.add(timer);
      }
    }
    if (!running.isEmpty()) {
      stepper.pulse(oneOf(running, chance).runsOut());
    }
  }

  /** A train comes into a section beside its own, or leaves one of those it stands in. */
  private void moveTrain(Stepper stepper, SplittableRandom chance) {
    String section = oneOf(sections, chance);
    boolean isOccupied = occupied.contains(section);
    boolean mayBeReached = beside.get(section).stream().anyMatch(occupied::contains);
    if (isOccupied || mayBeReached || chance.nextInt(8) == 0) {
      if (isOccupied) {
        occupied.remove(section);
      } else {
        occupied.add(section);
      }
      set("section " + section + ": occupied", !isOccupied, stepper);
    }
  }

  /** A device comes to lie where it has been called. */
  private void answer(Stepper stepper, SplittableRandom chance) {
    if (switches.isEmpty()) {
      return;
    }
    Switch toe = oneOf(switches, chance);
    for (Position position : Position.values()) {
      Optional<Variable> called =
          network.find("switch " + toe.number() + ": called " + position.word());
      if (called.filter(stepper::value).isPresent()) {
        lie(toe, position, stepper);
      }
    }
    network
        .find("lock " + toe.id() + ": released")
        .ifPresent(
            released -> {
              set("lock " + toe.id() + ": detected released", stepper.value(released), stepper);
              set("lock " + toe.id() + ": detected secured", !stepper.value(released), stepper);
            });
  }

  private void lie(Switch toe, Position position, Stepper stepper) {
    set("switch " + toe.id() + ": detected " + position.word(), true, stepper);
    set("switch " + toe.id() + ": detected " + position.opposite().word(), false, stepper);
  }

  private void set(String input, boolean value, Stepper stepper) {
    network.find(input).ifPresent(found -> stepper.set(found, value));
  }
}
