package tappet.bridge.rehearsal;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Protection;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.network.Explanation;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition;
import tappet.simulator.Railway;
import tappet.simulator.TrainState;

/**
 * What is so on a railroad. Sections, switches, routes, traffic and protections are as the box
 * knows them; signals, trains and lineside devices as they stand on the railway.
 */
final class Facts {

  private final VirtualRailroad railroad;
  private final Railway railway;
  private final Map<Class<?>, Fact<?>> facts = new HashMap<>();

  /**
   * One kind of fact.
   *
   * @param isSo whether it is so
   * @param seen how things are instead, in words
   * @param asked whom to ask why
   */
  private record Fact<C extends Condition>(
      Class<C> kind, Predicate<C> isSo, Function<C, String> seen, Function<C, String> asked) {

    boolean isSo(Condition condition) {
      return isSo.test(kind.cast(condition));
    }

    String seen(Condition condition) {
      return seen.apply(kind.cast(condition));
    }

    String asked(Condition condition) {
      return asked.apply(kind.cast(condition));
    }
  }

  Facts(VirtualRailroad railroad) {
    this.railroad = railroad;
    this.railway = railroad.railway();
    knowWhatTheBoxKnows();
    knowWhatStandsOnTheRailway();
    knowWhatIsSeenOfTrains();
  }

  /** That of the box which the daemon has at this moment. */
  private Interlocking interlocking() {
    return railroad.interlocking();
  }

  /** Whether a condition holds at this moment. */
  boolean isSo(Condition condition) {
    if (condition instanceof Condition.All all) {
      return all.parts().stream().allMatch(this::isSo);
    }
    if (condition instanceof Condition.Any any) {
      return any.parts().stream().anyMatch(this::isSo);
    }
    if (condition instanceof Condition.Not not) {
      return !isSo(not.part());
    }
    return facts.get(condition.getClass()).isSo(condition);
  }

  /** How everything is that a condition speaks of. */
  List<String> seen(Condition condition) {
    return single(condition).stream()
        .map(fact -> facts.get(fact.getClass()).seen(fact))
        .distinct()
        .toList();
  }

  /** Why everything is as it is that a condition speaks of. */
  List<String> why(Condition condition) {
    return single(condition).stream()
        .map(fact -> facts.get(fact.getClass()).asked(fact))
        .distinct()
        .flatMap(name -> interlocking().why(name, railroad.nowNs()).stream())
        .map(Explanation::text)
        .toList();
  }

  /** The facts that a condition is made of. */
  private static List<Condition> single(Condition condition) {
    List<Condition> single = new ArrayList<>();
    if (condition instanceof Condition.All all) {
      all.parts().forEach(part -> single.addAll(single(part)));
    } else if (condition instanceof Condition.Any any) {
      any.parts().forEach(part -> single.addAll(single(part)));
    } else if (condition instanceof Condition.Not not) {
      single.addAll(single(not.part()));
    } else {
      single.add(condition);
    }
    return single;
  }

  private void knowWhatTheBoxKnows() {
    on(
        Condition.SectionIs.class,
        is -> interlocking().occupancy(is.section()) == is.occupancy(),
        is -> "section " + is.section() + " is " + lower(interlocking().occupancy(is.section())),
        Condition.SectionIs::section);
    on(
        Condition.SwitchIs.class,
        is -> interlocking().position(is.switchId()).equals(Optional.of(is.position())),
        is -> "switch " + is.switchId() + " is " + position(is.switchId()),
        Condition.SwitchIs::switchId);
    on(
        Condition.RouteIsLocked.class,
        is -> interlocking().routeLocked(is.route()),
        is -> "route " + is.route() + isOrNot(interlocking().routeLocked(is.route())) + " locked",
        Condition.RouteIsLocked::route);
    on(
        Condition.IsProtected.class,
        is -> interlocking().protections().stream().anyMatch(held -> matches(held, is)),
        is -> protections(),
        is -> "protections");
    on(
        Condition.TrafficIs.class,
        is -> isSet(is.line(), is.heading()),
        is -> whyLine(is.line()),
        Condition.TrafficIs::line);
    on(
        Condition.TimeIsBetween.class,
        is -> railroad.box().minuteOfDay().stream().anyMatch(is::contains),
        is -> clock(),
        is -> "");
    on(
        Condition.AlarmStands.class,
        is -> railroad.box().alarms().stream().anyMatch(alarm -> alarm.contains(is.words())),
        is -> alarms(),
        is -> "");
  }

  private void knowWhatStandsOnTheRailway() {
    on(
        Condition.SignalIs.class,
        is -> railway.aspect(is.signal()).equals(is.aspect()),
        is -> "signal " + is.signal() + " is " + railway.aspect(is.signal()),
        Condition.SignalIs::signal);
    on(
        Condition.DistrictIsTripped.class,
        is -> railway.isTripped(is.district()),
        is -> "district " + is.district() + isOrNot(railway.isTripped(is.district())) + " tripped",
        Condition.DistrictIsTripped::district);
    on(
        Condition.OpeningIs.class,
        this::isSo,
        is -> "opening " + is.opening() + " is " + opening(is.opening()),
        Condition.OpeningIs::opening);
    on(
        Condition.CrossingIsWarning.class,
        is -> railway.isWarning(is.crossing()),
        is ->
            "grade crossing "
                + is.crossing()
                + isOrNot(railway.isWarning(is.crossing()))
                + " warning",
        Condition.CrossingIsWarning::crossing);
    on(
        Condition.LampIsLit.class,
        is -> railway.isLit(is.lamp()),
        is -> "lamp " + is.lamp() + isOrNot(railway.isLit(is.lamp())) + " lit",
        Condition.LampIsLit::lamp);
    on(
        Condition.LockIs.class,
        is -> railway.isSecured(is.switchId()) == (is.state() == LockState.SECURED),
        is ->
            "lock of "
                + is.switchId()
                + " is "
                + (railway.isSecured(is.switchId()) ? LockState.SECURED : LockState.RELEASED)
                    .word(),
        Condition.LockIs::switchId);
  }

  private void knowWhatIsSeenOfTrains() {
    on(
        Condition.TrainIsOn.class,
        is ->
            train(is.train()).filter(train -> train.sections().contains(is.section())).isPresent(),
        is -> told(is.train()),
        is -> "");
    on(
        Condition.TrainWaitsAt.class,
        is -> train(is.train()).flatMap(TrainState::waitsFor).equals(Optional.of(is.signal())),
        is -> told(is.train()),
        Condition.TrainWaitsAt::signal);
    on(
        Condition.TrainIs.class,
        is -> train(is.train()).filter(train -> is(train, is.state())).isPresent(),
        is -> told(is.train()),
        is -> train(is.train()).flatMap(TrainState::waitsFor).orElse(""));
    on(
        Condition.TrainHas.class,
        has -> train(has.train()).filter(train -> train.cars() == has.cars()).isPresent(),
        has -> told(has.train()) + train(has.train()).map(Facts::cars).orElse(""),
        has -> "");
  }

  private <C extends Condition> void on(
      Class<C> kind, Predicate<C> isSo, Function<C, String> seen, Function<C, String> asked) {
    facts.put(kind, new Fact<>(kind, isSo, seen, asked));
  }

  private static String isOrNot(boolean so) {
    return so ? " is" : " is not";
  }

  private String position(String switchId) {
    return interlocking()
        .position(switchId)
        .map(Position::word)
        .orElse("not detected in either position");
  }

  private static boolean matches(Protection held, Condition.IsProtected is) {
    return held.by() == is.by() && held.devices().contains(is.device());
  }

  private String protections() {
    List<String> held = interlocking().protections().stream().map(Protection::words).toList();
    return held.isEmpty() ? "nobody is protected" : String.join(", ", held);
  }

  /** The box tells which way it is set in its own words only. */
  private boolean isSet(String line, Heading heading) {
    return whyLine(line).endsWith(" is set " + heading.word());
  }

  private String whyLine(String line) {
    return interlocking().why(line, railroad.nowNs()).map(Explanation::clause).orElse("");
  }

  private String clock() {
    return railroad
        .box()
        .why("clock", railroad.nowNs())
        .map(Explanation::clause)
        .orElse("no clock");
  }

  private String alarms() {
    List<String> alarms = railroad.box().alarms();
    return alarms.isEmpty() ? "no alarm stands" : "alarms: " + String.join("; ", alarms);
  }

  private boolean isSo(Condition.OpeningIs is) {
    return switch (is.state()) {
      case CLOSED -> !railway.isOpen(is.opening());
      case OPEN -> railway.isOpen(is.opening());
      case LOCKED -> railway.boltLies(is.opening()).equals(Optional.of(Position.NORMAL));
      case UNLOCKED -> railway.boltLies(is.opening()).equals(Optional.of(Position.REVERSE));
    };
  }

  private String opening(String opening) {
    String leaf = railway.isOpen(opening) ? "open" : "closed";
    boolean hasBolt = interlocking().layout().lineside().openings().get(opening).lock().isPresent();
    return hasBolt ? leaf + " and " + bolt(opening) : leaf;
  }

  private String bolt(String opening) {
    return railway
        .boltLies(opening)
        .map(lies -> lies == Position.NORMAL ? "locked" : "unlocked")
        .orElse("its bolt between locked and unlocked");
  }

  private Optional<TrainState> train(String name) {
    return railway.train(name);
  }

  private static boolean is(TrainState train, Condition.TrainState state) {
    return switch (state) {
      case STANDS -> train.speedMetresPerSecond() == 0;
      case RUNS -> train.speedMetresPerSecond() > 0;
      case WRECKED -> train.activity() == TrainState.Activity.WRECKED;
      case FOUL -> train.foulOf().isPresent();
      case AT_END_OF_TRACK -> train.activity() == TrainState.Activity.AT_END_OF_TRACK;
    };
  }

  private String told(String name) {
    return train(name).map(Facts::told).orElse("train " + name + " is not on the track");
  }

  private static String told(TrainState train) {
    String place = " on " + String.join(", ", train.sections());
    String waits = train.waitsFor().map(signal -> " and waits at " + signal).orElse("");
    String foul = train.foulOf().map(what -> ", foul of " + what).orElse("");
    return "train " + train.name() + does(train) + place + waits + foul;
  }

  private static String cars(TrainState train) {
    return ", with " + train.cars() + " cars";
  }

  private static String does(TrainState train) {
    return switch (train.activity()) {
      case AT_END_OF_TRACK -> " stands at the end of track";
      case WRECKED -> " is wrecked";
      default -> train.speedMetresPerSecond() > 0 ? " runs" : " stands";
    };
  }

  private static String lower(Enum<?> word) {
    return word.name().toLowerCase(Locale.ROOT);
  }
}
