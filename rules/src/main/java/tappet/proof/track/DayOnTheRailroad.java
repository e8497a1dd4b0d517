package tappet.proof.track;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.PowerDistrict;
import tappet.layout.Switch;
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

  private final Layout layout;
  private final TrackPlan plan;
  private final Network network;
  private final List<String> sections;
  private final List<Variable> routesAsked = new ArrayList<>();
  private final List<Variable> otherCommands = new ArrayList<>();
  private final List<Variable> endings = new ArrayList<>();
  private final List<Variable> inputs;
  private final Map<String, Boolean> occupied = new LinkedHashMap<>();

  DayOnTheRailroad(TrackPlan plan, Network network) {
    this.layout = plan.layout();
    this.plan = plan;
    this.network = network;
    this.sections = List.copyOf(layout.sections().keySet());
    List<Variable> ends = network.timers().stream().map(Timer::runsOut).toList();
    for (Variable variable : network.variables()) {
      if (variable.kind() == Variable.Kind.PULSE && !ends.contains(variable)) {
        sort(variable);
      }
    }
    inputs =
        network.variables().stream()
            .filter(variable -> variable.kind() == Variable.Kind.INPUT)
            .toList();
  }

  private void sort(Variable pulse) {
    String name = pulse.name();
    if (name.startsWith("route ") && name.endsWith(": asked")) {
      routesAsked.add(pulse);
    } else if (name.endsWith(" ended")
        || name.endsWith(": cleared")
        || name.endsWith("confirmed")) {
      endings.add(pulse);
    } else {
      otherCommands.add(pulse);
    }
  }

  @Override
  public void begin(Stepper stepper) {
    for (PowerDistrict district : layout.lineside().districts().values()) {
      set(district.key() + ": known tripped", true, stepper);
      set(district.key() + ": detected restored", true, stepper);
    }
    stepper.step((variable, value) -> {});
    for (String section : sections) {
      occupied.put(section, false);
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
    int what = chance.nextInt(100);
    if (what < 30) {
      letTimeRunOut(stepper, chance);
    } else if (what < 50 && !routesAsked.isEmpty()) {
      stepper.pulse(oneOf(routesAsked, chance));
    } else if (what < 57) {
      stepper.pulse(oneOf(otherCommands, chance));
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

  private static <T> T oneOf(List<T> things, SplittableRandom chance) {
    return things.get(chance.nextInt(things.size()));
  }

  /** What keeps everything at rest is ended soon. */
  private void end(Stepper stepper, SplittableRandom chance) {
    List<Variable> useful =
        endings.stream()
            .filter(
                ending -> {
                  String name = ending.name();
                  String state =
                      name.endsWith(" ended")
                          ? name.substring(0, name.length() - 6)
                          : name.replace(": cleared", ": stands")
                              .replace(": confirmed", ": in doubt");
                  return network.find(state).filter(stepper::value).isPresent();
                })
            .toList();
    if (!useful.isEmpty()) {
      stepper.pulse(oneOf(useful, chance));
    }
  }

  private void letTimeRunOut(Stepper stepper, SplittableRandom chance) {
    List<Timer> running =
        network.timers().stream().filter(timer -> timer.isRunning(stepper)).toList();
    if (!running.isEmpty()) {
      stepper.pulse(running.get(chance.nextInt(running.size())).runsOut());
    }
  }

  /** A train comes into a section beside its own, or leaves one of those it stands in. */
  private void moveTrain(Stepper stepper, SplittableRandom chance) {
    String section = sections.get(chance.nextInt(sections.size()));
    boolean beside =
        plan.tracksIn(section).stream()
            .flatMap(track -> List.of(track.from(), track.to()).stream())
            .flatMap(joint -> plan.tracksAt(joint).stream())
            .anyMatch(track -> !track.section().equals(section) && occupied.get(track.section()));
    if (occupied.get(section) || beside || chance.nextInt(8) == 0) {
      boolean now = !occupied.get(section);
      occupied.put(section, now);
      set("section " + section + ": occupied", now, stepper);
    }
  }

  /** A device comes to lie where it has been called. */
  private void answer(Stepper stepper, SplittableRandom chance) {
    List<Switch> switches = List.copyOf(layout.switches().values());
    if (switches.isEmpty()) {
      return;
    }
    Switch toe = switches.get(chance.nextInt(switches.size()));
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
