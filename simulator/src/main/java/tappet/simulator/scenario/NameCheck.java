package tappet.simulator.scenario;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import tappet.layout.LampProving;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Lineside;
import tappet.layout.Signal;
import tappet.sentence.Command;
import tappet.sentence.Condition;
import tappet.sentence.Happening;
import tappet.sentence.Protected;
import tappet.simulator.ReportedEvents;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;

/** Checks that every name in a scenario is the name of something of its kind. */
final class NameCheck {

  private final Layout layout;
  private final Lineside lineside;
  private final Names names;
  private final Scenario scenario;
  private final Problems problems;
  private final Set<String> trains = new LinkedHashSet<>();
  private final Map<Class<?>, Consumer<Object>> checks = new HashMap<>();

  NameCheck(Names names, Scenario scenario, Problems problems) {
    this.names = names;
    this.layout = names.layout();
    this.lineside = layout.lineside();
    this.scenario = scenario;
    this.problems = problems;
    knowConditions();
    knowWhatIsSeen();
    knowCommands();
    knowProtections();
    knowReports();
    knowDevices();
    knowBoards();
    knowPeople();
  }

  void check() {
    scenario.trains().forEach(this::checkTrain);
    scenario.steps().forEach(this::nameCars);
    scenario.given().forEach(this::checkStep);
    scenario.never().forEach(forbidden -> check(forbidden.condition()));
    scenario.steps().forEach(this::checkStep);
  }

  private void checkTrain(TrainReader.Placed train) {
    section(train.spec().section(), train.place());
    if (!trains.add(train.spec().name())) {
      problems.add(
          train.place(),
          "there are two trains '%s'".formatted(train.spec().name()),
          "give each its own name");
    }
  }

  /** Cars that are set out are a train as any other from then on. */
  private void nameCars(Step step) {
    if (step instanceof Step.Tell tell && tell.command() instanceof Command.SetOut order) {
      trains.add(order.cars());
    } else if (step instanceof Step.Repeat repeat) {
      repeat.steps().forEach(this::nameCars);
    } else if (step instanceof Step.AtRandom random) {
      random.of().forEach(this::nameCars);
    }
  }

  private void checkStep(Step step) {
    if (step instanceof Step.Tell tell) {
      check(tell.command());
    } else if (step instanceof Step.Happens happens) {
      check(happens.happening());
    } else if (step instanceof Step.Expect expect) {
      check(expect.condition());
      if (expect.when() instanceof Step.When.Until until) {
        check(until.end());
      }
    } else if (step instanceof Step.Why why) {
      checkAsked(why);
    } else if (step instanceof Step.Repeat repeat) {
      repeat.steps().forEach(this::checkStep);
    } else if (step instanceof Step.AtRandom random) {
      random.of().forEach(this::checkStep);
    }
  }

  /** What a sentence without a name means needs no check. */
  private void check(Object sentence) {
    checks.getOrDefault(sentence.getClass(), any -> {}).accept(sentence);
  }

  private <S> void on(Class<S> kind, Consumer<S> check) {
    checks.put(kind, sentence -> check.accept(kind.cast(sentence)));
  }

  private void knowConditions() {
    on(Condition.SectionIs.class, is -> section(is.section(), is.place()));
    on(Condition.SwitchIs.class, is -> toe(is.switchId(), is.place()));
    on(Condition.SignalIs.class, this::checkAspect);
    on(Condition.IsProtected.class, is -> device(is.by().device(), is.device(), is.place()));
    on(
        Condition.RouteIsLocked.class,
        is -> known("rule file", "route", is.route(), names.routes(), is.place()));
    on(Condition.TrafficIs.class, is -> line(is.line(), is.place()));
    on(Condition.DistrictIsTripped.class, is -> district(is.district(), is.place()));
    on(Condition.OpeningIs.class, this::checkOpening);
    on(
        Condition.CrossingIsWarning.class,
        is -> inLayout("grade crossing", is.crossing(), lineside.crossings(), is.place()));
    on(Condition.TimeIsBetween.class, is -> checkClock(is.place()));
    on(Condition.Not.class, not -> check(not.part()));
    on(Condition.All.class, all -> all.parts().forEach(this::check));
    on(Condition.Any.class, any -> any.parts().forEach(this::check));
  }

  private void knowWhatIsSeen() {
    on(
        Condition.TrainIsOn.class,
        is -> {
          train(is.train(), is.place());
          section(is.section(), is.sectionPlace());
        });
    on(
        Condition.TrainWaitsAt.class,
        is -> {
          train(is.train(), is.place());
          signal(is.signal(), is.signalPlace());
        });
    on(Condition.TrainIs.class, is -> train(is.train(), is.place()));
    on(
        Condition.TrainHas.class,
        has -> {
          train(has.train(), has.place());
          checkCarLength(has.place());
        });
    on(Condition.LampIsLit.class, is -> inLayout("lamp", is.lamp(), lineside.lamps(), is.place()));
    on(Condition.LockIs.class, is -> lock(is.switchId(), is.place()));
  }

  private void knowCommands() {
    on(Command.Line.class, this::checkRoute);
    on(Command.Fleet.class, this::checkRoute);
    on(Command.CallOn.class, this::checkRoute);
    on(Command.Stack.class, this::checkRoute);
    on(
        Command.LineRoute.class,
        line -> known("rule file", "route", line.route(), names.routes(), line.place()));
    on(Command.Unfleet.class, of -> signal(of.signal(), of.place()));
    on(Command.Unstack.class, of -> signal(of.signal(), of.place()));
    on(Command.Cancel.class, of -> signal(of.signal(), of.place()));
    on(Command.SetTraffic.class, set -> line(set.line(), set.place()));
    on(Command.Throw.class, order -> toe(order.switchId(), order.place()));
    on(Command.ThrowFor.class, order -> toe(order.switchId(), order.place()));
    on(Command.Lock.class, order -> opening(order.opening(), order.place()));
    on(Command.Unlock.class, order -> opening(order.opening(), order.place()));
    on(Command.Release.class, order -> lock(order.switchId(), order.place()));
    on(Command.Secure.class, order -> lock(order.switchId(), order.place()));
    on(Command.Run.class, run -> train(run.train(), run.place()));
    on(Command.Halt.class, halt -> train(halt.train(), halt.place()));
    on(
        Command.PickUp.class,
        order -> {
          train(order.cars(), order.carsPlace());
          train(order.train(), order.place());
        });
    on(
        Command.SetOut.class,
        order -> {
          train(order.train(), order.place());
          checkCarLength(order.place());
        });
  }

  private void knowProtections() {
    on(
        Command.GrantPermit.class,
        grant -> grant.sections().forEach(section -> section(section, grant.place())));
    on(Command.Block.class, block -> device(block.device(), block.id(), block.place()));
    on(Command.Unblock.class, end -> device(end.device(), end.id(), end.place()));
    on(Command.Flag.class, flag -> section(flag.section(), flag.place()));
    on(Command.Unflag.class, end -> section(end.section(), end.place()));
  }

  private void knowReports() {
    on(Happening.Reports.class, this::checkReport);
    on(Happening.SpotReports.class, this::checkSpot);
    on(Happening.SectionIsShorted.class, this::checkFed);
    on(Happening.SectionFlickers.class, is -> section(is.section(), is.place()));
  }

  private void knowDevices() {
    on(Happening.MotorSticks.class, is -> motor(is.switchId(), is.place()));
    on(Happening.MotorTakes.class, is -> motor(is.switchId(), is.place()));
    on(Happening.MotorIsMended.class, is -> motor(is.switchId(), is.place()));
    on(Happening.BoltSticks.class, is -> bolt(is.opening(), is.place()));
    on(Happening.BoltIsMended.class, is -> bolt(is.opening(), is.place()));
    on(
        Happening.LampBurnsOut.class,
        is -> lamp(is.signal(), is.signalPlace(), is.lamp(), is.place()));
    on(
        Happening.LampIsReplaced.class,
        is -> lamp(is.signal(), is.signalPlace(), is.lamp(), is.place()));
    on(Happening.BreakerTrips.class, is -> district(is.district(), is.place()));
    on(Happening.BreakerIsRestored.class, is -> district(is.district(), is.place()));
    on(Happening.OpeningIsOpened.class, is -> opening(is.opening(), is.place()));
    on(Happening.OpeningIsClosed.class, is -> opening(is.opening(), is.place()));
  }

  private void knowBoards() {
    on(Happening.BoardFails.class, is -> board(is.board(), is.place()));
    on(Happening.BoardIsLate.class, is -> board(is.board(), is.place()));
    on(Happening.BoardFallsSilent.class, is -> board(is.board(), is.place()));
    on(Happening.BoardSpeaksAgain.class, is -> board(is.board(), is.place()));
    on(Happening.BoardReboots.class, is -> board(is.board(), is.place()));
    on(Happening.BoardBrownsOut.class, is -> board(is.board(), is.place()));
    on(Happening.AliasClashes.class, is -> board(is.board(), is.place()));
  }

  private void knowPeople() {
    on(Happening.CrewThrows.class, crew -> toe(crew.switchId(), crew.place()));
    on(Happening.CrewForces.class, crew -> toe(crew.switchId(), crew.place()));
    on(Happening.CrewAsks.class, this::checkControl);
    on(Happening.CrewBreaksLock.class, crew -> lock(crew.switchId(), crew.place()));
    on(
        Happening.ButtonIs.class,
        is -> inLayout("button", is.button(), lineside.buttons(), is.place()));
    on(Happening.TrainIsLifted.class, is -> train(is.train(), is.place()));
    on(Happening.Engineer.class, is -> train(is.train(), is.place()));
    on(Happening.TrainLosesBrakes.class, is -> train(is.train(), is.place()));
  }

  private void checkRoute(Command.OfRoute command) {
    signal(command.from(), command.place());
    List<String> ends = new ArrayList<>(layout.signals().keySet());
    ends.addAll(layout.joints().keySet());
    known("layout", "signal or joint", command.to(), ends, command.toPlace());
  }

  private void checkAspect(Condition.SignalIs is) {
    if (signal(is.signal(), is.place())) {
      Signal signal = layout.signals().get(is.signal());
      List<String> aspects = new ArrayList<>(signal.aspects());
      if (signal.canGoDark()) {
        aspects.add("dark");
      }
      if (!aspects.contains(is.aspect())) {
        problems.add(
            is.aspectPlace(),
            "signal %s never shows '%s'".formatted(is.signal(), is.aspect()),
            NearNames.meant(is.aspect(), aspects, "it shows nothing"));
      }
    }
  }

  private void checkOpening(Condition.OpeningIs is) {
    boolean ofItsBolt =
        is.state() == Condition.OpeningState.LOCKED
            || is.state() == Condition.OpeningState.UNLOCKED;
    if (ofItsBolt) {
      bolt(is.opening(), is.place());
    } else {
      opening(is.opening(), is.place());
    }
  }

  private void checkCarLength(Place place) {
    if (layout.trains().carLength().isEmpty()) {
      problems.add(
          place,
          "the layout file does not say how long a car is",
          "add for example 'car length: 0.16 m' under its 'trains'");
    }
  }

  private void checkClock(Place place) {
    if (scenario.clock().isEmpty()) {
      problems.add(
          place, "this scenario has no clock", "add for example 'clock: {rate: 2, time: 06:00}'");
    }
  }

  private void checkReport(Happening.Reports what) {
    boolean exists =
        switch (what.reporter()) {
          case SECTION -> section(what.id(), what.place());
          case SWITCH -> toe(what.id(), what.place());
          case LOCK -> lock(what.id(), what.place());
          case OPENING -> opening(what.id(), what.place());
          case BOLT -> bolt(what.id(), what.place());
          case BREAKER -> district(what.id(), what.place());
        };
    Set<String> states = ReportedEvents.of(layout, what.reporter(), what.id()).keySet();
    String told = what.reporter().words() + " " + what.id();
    if (exists && states.isEmpty()) {
      problems.add(what.place(), "no board reports of %s".formatted(told), "take the sentence out");
    } else if (exists
        && what.report() instanceof Happening.Report.Of one
        && !states.contains(one.state())) {
      problems.add(
          what.place(),
          "%s has no event for '%s'".formatted(told, one.state()),
          NearNames.meant(one.state(), states, "it has none"));
    }
  }

  private void checkFed(Happening.SectionIsShorted what) {
    boolean isFed =
        lineside.districts().values().stream()
            .anyMatch(district -> district.sections().contains(what.section()));
    if (section(what.section(), what.place()) && !isFed) {
      problems.add(
          what.place(),
          "section %s lies in no power district".formatted(what.section()),
          "name one whose breaker can trip");
    }
  }

  private void checkSpot(Happening.SpotReports what) {
    if (inLayout("spot", what.spot(), lineside.spots(), what.place())) {
      Set<String> ways = lineside.spots().get(what.spot()).tells().keySet();
      if (!ways.contains(what.way())) {
        problems.add(
            what.place(),
            "spot %s has no event for '%s'".formatted(what.spot(), what.way()),
            "it has " + NearNames.few(ways));
      }
    }
  }

  private void checkControl(Happening.CrewAsks what) {
    if (toe(what.switchId(), what.place())
        && !layout.switches().get(what.switchId()).working().asks().containsKey(what.position())) {
      problems.add(
          what.place(),
          "switch %s has no control beside the track for %s"
              .formatted(what.switchId(), what.position().word()),
          "add 'asks' to it in the layout file, or write 'crew throws'");
    }
  }

  /** Lines and protections can be asked about as well as whatever has an id. */
  private void checkAsked(Step.Why why) {
    List<String> known = new ArrayList<>(layout.signals().keySet());
    known.addAll(layout.switches().keySet());
    known.addAll(layout.sections().keySet());
    known.addAll(names.routes());
    known.addAll(names.lines());
    lineside.devices().forEach(device -> known.add(device.id()));
    known.add("protections");
    known("railroad", "device or route", why.name(), known, why.place());
  }

  private boolean device(Protected.Device kind, String id, Place place) {
    return switch (kind) {
      case SIGNAL -> signal(id, place);
      case SWITCH -> toe(id, place);
      case SECTION -> section(id, place);
    };
  }

  private boolean section(String id, Place place) {
    return inLayout("section", id, layout.sections(), place);
  }

  private boolean signal(String id, Place place) {
    return inLayout("signal", id, layout.signals(), place);
  }

  private boolean toe(String id, Place place) {
    return inLayout("switch", id, layout.switches(), place);
  }

  private boolean district(String id, Place place) {
    return inLayout("power district", id, lineside.districts(), place);
  }

  private boolean opening(String id, Place place) {
    return inLayout("opening", id, lineside.openings(), place);
  }

  private void train(String name, Place place) {
    known("scenario", "train", name, trains, place);
  }

  private void line(String id, Place place) {
    known("rule file", "line", id, names.lines(), place);
  }

  private void motor(String id, Place place) {
    if (toe(id, place) && layout.switches().get(id).control().hasMotor()) {
      return;
    }
    if (layout.switches().containsKey(id)) {
      problems.add(place, "switch %s has no motor".formatted(id), "name one that has");
    }
  }

  private boolean lock(String id, Place place) {
    boolean exists = toe(id, place);
    return exists && has(layout.switches().get(id).lock(), "switch " + id, "electric lock", place);
  }

  private boolean bolt(String id, Place place) {
    boolean exists = opening(id, place);
    return exists && has(lineside.openings().get(id).lock(), "opening " + id, "lock", place);
  }

  private boolean has(Optional<?> part, String device, String what, Place place) {
    if (part.isEmpty()) {
      problems.add(place, "%s has no %s".formatted(device, what), "name one that has");
    }
    return part.isPresent();
  }

  private void lamp(String signal, Place signalPlace, String lamp, Place place) {
    if (signal(signal, signalPlace)) {
      List<String> lamps =
          layout.signals().get(signal).lights().map(Lights::provings).stream()
              .flatMap(Collection::stream)
              .map(LampProving::id)
              .toList();
      if (!lamps.contains(lamp)) {
        problems.add(
            place,
            "no board proves a lamp '%s' of signal %s".formatted(lamp, signal),
            NearNames.meant(lamp, lamps, "none of its lamps is proved"));
      }
    }
  }

  private void board(String id, Place place) {
    inLayout("board", id, layout.boards(), place);
  }

  private boolean inLayout(String kind, String name, Map<String, ?> all, Place place) {
    return known("layout", kind, name, all.keySet(), place);
  }

  private boolean known(
      String where, String kind, String name, Collection<String> all, Place place) {
    if (all.contains(name)) {
      return true;
    }
    problems.add(
        place,
        "this %s has no %s '%s'".formatted(where, kind, name),
        NearNames.meant(name, all, "declare it first"));
    return false;
  }
}
