package tappet.bridge.rehearsal;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import tappet.bridge.box.BoxListener;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.layout.Layout;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Condition;
import tappet.simulator.Mishap;
import tappet.simulator.scenario.Scenario;
import tappet.simulator.scenario.Step;
import tappet.simulator.scenario.Step.When;
import tappet.simulator.scenario.TrainReader;
import tappet.source.Place;

/** One scenario, run on a railroad of its own. The same scenario always runs the same way. */
public final class Rehearsal {

  private final Scenario scenario;
  private final VirtualRailroad railroad;
  private final Facts facts;
  private final Chronicle chronicle = new Chronicle();
  private final Onlooker onlooker;
  private final CoverageFollower follower;
  private Running running;
  private Optional<String> onlookerSays = Optional.empty();
  private int mishapsSeen;
  private long beganNs;

  /** The step that is being taken, as people find it. */
  private record Running(Place place, String words) {}

  /** Ends the scenario. */
  private static final class NotAsExpected extends RuntimeException {
    private static final long serialVersionUID = 1;

    private final transient Failure failure;

    NotAsExpected(Failure failure) {
      super(failure.wrong(), null, false, false);
      this.failure = failure;
    }
  }

  private Rehearsal(
      Scenario scenario, Layout layout, ControlTable table, Onlooker onlooker, Coverage coverage) {
    this.scenario = scenario;
    this.running = new Running(scenario.place(), "the start");
    this.onlooker = onlooker;
    this.railroad = new VirtualRailroad(layout, table, clock(scenario), new Listener(), onlooker);
    this.facts = new Facts(railroad);
    this.follower = coverage.follower(railroad, facts);
  }

  /**
   * Runs a scenario to its end, or to the first step that does not go as expected.
   *
   * @param onlooker looks on at this one run
   * @param coverage is told what the scenario has tried
   */
  public static Result of(
      Scenario scenario, Layout layout, ControlTable table, Onlooker onlooker, Coverage coverage) {
    return new Rehearsal(scenario, layout, table, onlooker, coverage).result();
  }

  private static ClockPlan clock(Scenario scenario) {
    return scenario
        .clock()
        .<ClockPlan>map(clock -> new ClockPlan.Run(FastClock.FAST, clock.rate(), clock.time()))
        .orElseGet(ClockPlan.None::new);
  }

  private Result result() {
    Optional<Failure> failure = Optional.empty();
    try {
      begin();
      take(scenario.steps(), Chance.NONE);
      end();
    } catch (NotAsExpected end) {
      failure = Optional.of(end.failure);
    }
    return new Result(scenario, failure, railroad.nowNs());
  }

  private void begin() {
    for (Step.Happens given : scenario.given()) {
      running = new Running(given.place(), given.words());
      happen(given, Chance.NONE);
    }
    for (TrainReader.Placed train : scenario.trains()) {
      running = new Running(train.place(), "train: " + train.spec().name());
      railroad.place(train.spec()).ifPresent(whyNot -> fail(whyNot, List.of()));
    }
    running = new Running(scenario.place(), "the start");
    onlooker.begins(railroad);
    railroad.switchOn();
    if (scenario.begins() == Scenario.Beginning.READY) {
      railroad.passStart();
    }
    beganNs = railroad.nowNs();
    chronicle.beginAt(beganNs);
    railroad.atEachMoment(this::look);
    look();
  }

  /** Whether what is told may be refused, as where it is told by chance. */
  private enum Chance {
    NONE,
    MAY_BE_REFUSED
  }

  private void take(List<Step> steps, Chance chance) {
    steps.forEach(step -> take(step, chance));
  }

  private void take(Step step, Chance chance) {
    running = new Running(step.place(), step.words());
    if (step instanceof Step.Tell tell) {
      tell(tell, chance);
    } else if (step instanceof Step.Happens happens) {
      happen(happens, chance);
    } else if (step instanceof Step.Pass pass) {
      railroad.passTime(pass.time());
    } else if (step instanceof Step.Expect expect) {
      expect(expect);
    } else if (step instanceof Step.Why why) {
      ask(why);
    } else if (step instanceof Step.Repeat repeat) {
      for (int round = 0; round < repeat.times(); round++) {
        take(repeat.steps(), chance);
      }
    } else if (step instanceof Step.AtRandom random) {
      takeAtRandom(random);
    }
  }

  private void takeAtRandom(Step.AtRandom random) {
    SplittableRandom dice = new SplittableRandom(random.seed());
    for (int count = 0; count < random.count(); count++) {
      take(random.of().get(dice.nextInt(random.of().size())), Chance.MAY_BE_REFUSED);
    }
  }

  private void tell(Step.Tell tell, Chance chance) {
    chronicle.note("told: " + tell.sentence(), railroad.nowNs());
    follower.aboutToTell(tell.command());
    if (!(tell.command() instanceof Command.OfTrain)) {
      onlooker.tells(tell.sentence(), railroad.nowNs());
    }
    Optional<String> whyNot = railroad.tell(tell.command());
    follower.told(tell.command(), whyNot.isEmpty());
    judge(tell.refused(), whyNot, chance);
  }

  private void happen(Step.Happens happens, Chance chance) {
    chronicle.note("happens: " + happens.sentence(), railroad.nowNs());
    Optional<String> whyNot = railroad.happen(happens.happening());
    follower.happened(happens.happening(), whyNot.isEmpty());
    judge(happens.refused(), whyNot, chance);
  }

  private void judge(Optional<String> refused, Optional<String> whyNot, Chance chance) {
    if (whyNot.isEmpty()) {
      refused.ifPresent(words -> fail("it was done, and not refused", List.of()));
      return;
    }
    String told = whyNot.get().strip();
    if (refused.isEmpty() && chance == Chance.NONE) {
      fail("it was refused:\n" + told, List.of());
    }
    refused
        .filter(words -> !told.contains(words))
        .ifPresent(words -> fail("it was refused without '" + words + "':\n" + told, List.of()));
  }

  private void expect(Step.Expect expect) {
    Condition condition = expect.condition();
    if (expect.when() instanceof When.Now) {
      require(facts.isSo(condition), "it is not so", condition);
    } else if (expect.when() instanceof When.Within within) {
      boolean so = railroad.passUntil(within.time(), () -> facts.isSo(condition));
      require(so, "it has not come about", condition);
    } else if (expect.when() instanceof When.Always always) {
      boolean broken = railroad.passUntil(always.time(), () -> !facts.isSo(condition));
      require(!broken, "it does not last", condition);
    } else if (expect.when() instanceof When.Never never) {
      boolean broken = railroad.passUntil(never.time(), () -> facts.isSo(condition));
      require(!broken, "it has come about", condition);
    } else if (expect.when() instanceof When.Until until) {
      expect(condition, until);
    }
  }

  private void expect(Condition condition, When.Until until) {
    boolean over =
        railroad.passUntil(until.atMost(), () -> facts.isSo(until.end()) || !facts.isSo(condition));
    require(over, "the end has not come about", until.end());
    require(facts.isSo(until.end()), "it has ended too early", condition);
  }

  private void ask(Step.Why why) {
    String told = railroad.box().why(why.name(), railroad.nowNs()).orElseThrow().text();
    if (!told.contains(why.says())) {
      fail("the answer has no '%s' in it:\n%s".formatted(why.says(), told.strip()), List.of());
    }
  }

  /** Whatever must not be so is looked for, and whatever has gone wrong on the track. */
  private void look() {
    if (railroad.box().hasFailed()) {
      fail("the interlocking has failed; the log tells how", List.of());
    }
    onlookerSays.ifPresent(wrong -> fail(wrong, List.of()));
    follower.look();
    for (Scenario.Forbidden never : scenario.never()) {
      if (facts.isSo(never.condition())) {
        String during = "it has come about during '%s'".formatted(running.words());
        running = new Running(never.place(), "never: " + never.sentence());
        require(false, during, never.condition());
      }
    }
    lookForMishaps();
  }

  private void lookForMishaps() {
    List<Mishap> mishaps = railroad.railway().mishaps();
    for (Mishap mishap : mishaps.subList(mishapsSeen, mishaps.size())) {
      mishapsSeen++;
      chronicle.note(mishap.account(), railroad.nowNs());
      if (scenario.mishaps().stream().noneMatch(mishap.account()::contains)) {
        fail("this went wrong: " + mishap.account(), List.of());
      }
    }
  }

  private void end() {
    List<String> accounts = railroad.railway().mishaps().stream().map(Mishap::account).toList();
    for (String words : scenario.mishaps()) {
      if (accounts.stream().noneMatch(account -> account.contains(words))) {
        running = new Running(scenario.place(), "mishaps");
        fail("'%s' has not gone wrong".formatted(words), List.of());
      }
    }
  }

  private void require(boolean good, String wrong, Condition condition) {
    if (!good) {
      String seen = String.join("; ", facts.seen(condition));
      fail(wrong + ": " + seen, facts.why(condition));
    }
  }

  private void fail(String wrong, List<String> why) {
    throw new NotAsExpected(
        new Failure(
            running.place(),
            running.words(),
            wrong,
            why,
            chronicle.last(),
            railroad.nowNs() - beganNs));
  }

  /** Hears the box. What goes wrong is told once box and railway have come to rest. */
  private final class Listener implements BoxListener {

    @Override
    public void changed(String what) {
      chronicle.note(what, railroad.nowNs());
    }

    @Override
    public void alarmRaised(String what) {
      chronicle.note("ALARM " + what, railroad.nowNs());
    }

    @Override
    public void alarmCleared(String what) {
      chronicle.note("alarm gone: " + what, railroad.nowNs());
    }

    @Override
    public void stepped(tappet.interlocking.Step step) {
      follower.stepped(step);
      onlookerSays = onlookerSays.or(() -> ask(step));
    }

    /** The box shields itself from listeners that fail; here nothing that fails may be missed. */
    private Optional<String> ask(tappet.interlocking.Step step) {
      try {
        return onlooker.stepped(step, railroad.nowNs());
      } catch (RuntimeException e) {
        return Optional.of("the onlooker has failed: " + e);
      }
    }
  }
}
