package tappet.bridge.view;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import java.util.stream.Stream;
import tappet.interlocking.Answer;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.network.Explanation;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.rules.RouteRow;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * What people write on the chart for each other: names of trains, which follow them, alarms that
 * somebody has seen, and what crews ask. The interlocking hears nothing of it.
 */
public final class ChartBook implements Stepper.ChangeListener {

  /** More trains than any layout carries. */
  static final int TRAINS_MAX = 200;

  private final LongSupplier wallClockMs;
  private final Map<Variable, String> sectionOf = new HashMap<>();
  private final Map<Variable, String> spotOf = new HashMap<>();
  private final Map<String, Long> passedMs = new LinkedHashMap<>();
  private final List<String> touched = new ArrayList<>();
  private final Asks asks = new Asks();
  private final SeenAlarms alarms = new SeenAlarms();
  private Interlocking interlocking;
  private TrackPlan plan;
  private TrainNames trains;
  private Consumer<KeptChart> keeper = chart -> {};
  private KeptChart lastKept = KeptChart.BLANK;

  /**
   * An empty book.
   *
   * @param wallClockMs the time of day, in milliseconds since 1970
   */
  public ChartBook(LongSupplier wallClockMs) {
    this.wallClockMs = wallClockMs;
  }

  /** Looks at the network before it runs, to know which of its changes are about track. */
  public Network over(Layout layout, Network network) {
    for (String section : layout.sections().keySet()) {
      network.find("section " + section + ": occupied").ifPresent(it -> sectionOf.put(it, section));
      network.find("section " + section + ": known").ifPresent(it -> sectionOf.put(it, section));
    }
    for (String spot : layout.lineside().spots().keySet()) {
      Stream.of("passed", "passed eastward", "passed westward")
          .flatMap(passed -> network.find("spot " + spot + ": " + passed).stream())
          .forEach(it -> spotOf.put(it, spot));
    }
    return network;
  }

  /** The interlocking is made, and has not been started. */
  public void watch(Interlocking made) {
    interlocking = made;
    plan = new TrackPlan(made.layout());
    trains = new TrainNames(plan, this::lies, this::sectionBefore);
    touched.addAll(made.layout().sections().keySet());
  }

  /**
   * Writes down what was on the chart when the daemon last ran, before the interlocking is started.
   * Simulated trains are called as the owner's settings say. What the layout has not any more, is
   * left out.
   *
   * @param keeperOfMoves takes the chart each time it changes without a person's writing
   */
  public void restore(KeptChart kept, Consumer<KeptChart> keeperOfMoves) {
    for (KeptChart.Train train : kept.trains()) {
      List<String> here =
          train.on().stream().filter(interlocking.layout().sections()::containsKey).toList();
      if (!here.isEmpty()) {
        trains.restore(train.name(), here, train.lost());
      }
    }
    for (KeptChart.Seen seen : kept.seen()) {
      alarms.restore(
          seen.alarm(),
          new SeenAlarms.Seen(seen.sinceMs(), Optional.of(seen.by())),
          wallClockMs.getAsLong());
    }
    kept.asked()
        .forEach(
            ask ->
                asks.restore(ask.number(), new Asks.Ask(ask.holder(), ask.sentence(), ask.atMs())));
    interlocking.restoreReleases(kept.releases());
    keeper = keeperOfMoves;
  }

  /** What must be on the chart after a restart. */
  public KeptChart kept() {
    lastKept = keptWith(interlocking.releases());
    return lastKept;
  }

  /**
   * The same if somebody is given a switch. Who has it already, still has it, whoever asks for it.
   */
  public KeptChart keptWith(Command.Release asked) {
    Map<String, String> releases = new LinkedHashMap<>();
    asked.holder().ifPresent(name -> releases.put(asked.switchId(), name));
    releases.putAll(interlocking.releases());
    return keptWith(releases);
  }

  private KeptChart keptWith(Map<String, String> releases) {
    return new KeptChart(
        trains.all().stream()
            .map(named -> new KeptChart.Train(named.train(), named.on(), named.lost()))
            .toList(),
        alarms.acknowledged().entrySet().stream()
            .map(
                seen ->
                    new KeptChart.Seen(
                        seen.getKey(),
                        seen.getValue().sinceMs(),
                        seen.getValue().seenBy().orElseThrow()))
            .toList(),
        asks.all().entrySet().stream()
            .map(
                ask ->
                    new KeptChart.Asked(
                        Long.parseLong(ask.getKey()),
                        ask.getValue().holder(),
                        ask.getValue().sentence(),
                        ask.getValue().atMs()))
            .toList(),
        releases);
  }

  /** Another interlocking has taken over, with every train where it is; names stay with them. */
  public void goOn(Interlocking next) {
    sectionOf.clear();
    spotOf.clear();
    over(next.layout(), next.network());
    TrainNames before = trains;
    watch(next);
    trains.goOn(before);
  }

  @Override
  public void changed(Variable variable, boolean value) {
    String section = sectionOf.get(variable);
    if (section != null) {
      touched.add(section);
    }
    String spot = spotOf.get(variable);
    if (spot != null && value) {
      passedMs.put(spot, wallClockMs.getAsLong());
    }
  }

  /** When a train last passed a spot, in milliseconds since 1970; empty where none has yet. */
  OptionalLong passedMs(String spot) {
    Long atMs = passedMs.get(spot);
    return atMs == null ? OptionalLong.empty() : OptionalLong.of(atMs);
  }

  /** The network has settled: trains are followed. */
  public void settled() {
    if (!touched.isEmpty()) {
      Map<String, Occupancy> now = new HashMap<>();
      touched.forEach(section -> now.put(section, interlocking.occupancy(section)));
      touched.clear();
      trains.follow(now);
      keepWhatMoved();
    }
  }

  private void keepWhatMoved() {
    KeptChart before = lastKept;
    if (!kept().equals(before)) {
      keeper.accept(lastKept);
    }
  }

  private Optional<Position> lies(String switchId) {
    return interlocking.position(switchId);
  }

  /** From where the route that holds a section leads into it. */
  private Optional<String> sectionBefore(String section) {
    return interlocking
        .picture()
        .sections()
        .get(section)
        .route()
        .map(interlocking.table().routes()::get)
        .flatMap(row -> before(section, row));
  }

  private Optional<String> before(String section, RouteRow row) {
    int place = row.path().indexOf(section);
    return place > 0 ? Optional.of(row.path().get(place - 1)) : rear(row.from());
  }

  /** The section in which a train stands that waits at a signal. */
  private Optional<String> rear(String id) {
    Signal signal = interlocking.layout().signals().get(id);
    return plan.tracksAt(signal.at()).stream()
        .map(Track::section)
        .filter(section -> !section.equals(signal.into()))
        .findFirst();
  }

  /**
   * Writes something down.
   *
   * @param who who says so
   */
  public Answer tell(Command.OfChart command, String who) {
    if (command instanceof Command.NameTrain named) {
      return name(named);
    }
    if (command instanceof Command.DropName drop) {
      return trains.drop(drop.train())
          ? done("no train is called " + drop.train() + " any more")
          : refused(noTrain(drop.train()));
    }
    if (command instanceof Command.Acknowledge seen) {
      return alarms.acknowledge(seen.alarm(), who)
          ? done("acknowledged by " + who)
          : refused("no such alarm stands");
    }
    if (command instanceof Command.Withdraw withdraw) {
      return asks.withdraw(withdraw.number())
          ? done("withdrawn")
          : refused("nobody asks for anything under number " + withdraw.number());
    }
    return ask((Command.Ask) command);
  }

  private Answer name(Command.NameTrain named) {
    var sections = interlocking.layout().sections();
    if (!sections.containsKey(named.section())) {
      return refused(
          "there is no section '%s'; %s"
              .formatted(
                  named.section(),
                  NearNames.meant(named.section(), sections.keySet(), "the layout has none")));
    }
    if (interlocking.occupancy(named.section()) == Occupancy.CLEAR) {
      return refused("section " + named.section() + " is clear: no train stands there");
    }
    Optional<String> there =
        trains.on(named.section()).filter(other -> !other.equals(named.train()));
    if (there.isPresent()) {
      return refused(
          "train '%s' is on section %s; drop its name first"
              .formatted(there.get(), named.section()));
    }
    if (trains.all().size() >= TRAINS_MAX) {
      return refused("there are %d names already; drop some".formatted(TRAINS_MAX));
    }
    trains.put(named.train(), named.section());
    return done("the train on section " + named.section() + " is called " + named.train());
  }

  private String noTrain(String train) {
    List<String> names = trains.all().stream().map(TrainNames.Named::train).toList();
    return "no train is called '%s'; %s"
        .formatted(train, NearNames.meant(train, names, "no train has a name"));
  }

  /** What is asked must be a sentence that the dispatcher could say. */
  private Answer ask(Command.Ask ask) {
    Problems problems = new Problems();
    Optional<Command> asked =
        Sentences.command(ask.sentence(), Place.inText("what is asked", 1), problems);
    if (asked.isEmpty()) {
      return refused(problems.sorted().stream().map(Problem::toString).findFirst().orElse(""));
    }
    if (asked.get() instanceof Command.OfChart) {
      return refused("say that yourself");
    }
    if (asks.full()) {
      return refused("%d things are asked already; wait for an answer".formatted(Asks.MAX));
    }
    asks.add(new Asks.Ask(ask.holder(), ask.sentence(), wallClockMs.getAsLong()));
    return done("the dispatcher is asked");
  }

  /** Somebody has said a sentence, and it was done: nobody asks for it any more. */
  public void said(String sentence) {
    asks.done(sentence.strip());
    keepWhatMoved();
  }

  /** A train is called so, as the owner's settings say; nothing is checked. */
  public void begin(String train, String section) {
    trains.put(train, section);
  }

  List<TrainNames.Named> trains() {
    return trains.all();
  }

  Optional<String> trainOn(String section) {
    return trains.on(section);
  }

  Map<String, Asks.Ask> asks() {
    return asks.all();
  }

  Map<String, SeenAlarms.Seen> alarms(List<String> standing) {
    alarms.follow(standing, wallClockMs.getAsLong());
    return alarms.all();
  }

  private static Answer done(String what) {
    return new Answer(true, Explanation.fact(what));
  }

  private static Answer refused(String why) {
    return new Answer(false, Explanation.fact(why));
  }
}
