package tappet.bridge.replay;

import static tappet.bridge.replay.SilentBoards.words;
import static tappet.source.YamlText.quoted;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.box.BoxListener;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.record.Entry;
import tappet.bridge.record.Item;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Protection;
import tappet.interlocking.Step;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.Protected;

/**
 * Tells a recorded session as a scenario: what boards reported, what people asked, and what the box
 * told the field, each at its time. Trains are not told of, only what was reported of them: nobody
 * recorded where they were.
 */
public final class ScenarioTeller {

  /** Boards have answered by then, and what follows from it has been told. */
  private static final long SETTLED_US = 3_000_000L;

  /** A railroad is plugged in by then, or its scenario has to say when it was. */
  private static final long PLUGGED_US = 1_000_000L;

  /** What a scenario that begins ready lets pass before its first step, besides the start time. */
  private static final Duration ANSWERING = Duration.ofSeconds(2);

  private static final long US_PER_SECOND = 1_000_000L;
  private static final int SECONDS_PER_MINUTE = 60;
  private static final int QUARTERS = 4;
  private static final int MINUTES_PER_HOUR = 60;
  private static final int MINUTES_PER_DAY = 24 * 60;

  /**
   * Which part of a session is told.
   *
   * @param fromUs microseconds from the session's start on
   * @param toUs the same, for the end
   */
  public record Part(long fromUs, long toUs) {

    /** All of it. */
    public static final Part WHOLE = new Part(0, Long.MAX_VALUE);
  }

  /**
   * A scenario, and what came of the replay by which it was told.
   *
   * @param text the scenario file
   */
  public record Told(String text, Outcome outcome) {}

  /**
   * Where the scenario can begin.
   *
   * @param reported by device: what it was last heard to say
   */
  private record Beginning(
      ScenarioText.Beginning told, Map<String, FieldSentences.Told> reported) {}

  private final String name;
  private final Part part;
  private final Layout layout;
  private final Duration startTime;
  private final List<String> routes;
  private final Item.Started start;
  private final long beganUs;
  private final FieldSentences field;
  private final Replay replay;

  /** By device: what it was last heard to say. */
  private final Map<String, FieldSentences.Told> reported = new LinkedHashMap<>();

  /** By device: what the box has last told it. */
  private final Map<String, String> expected = new LinkedHashMap<>();

  private final Map<Long, Item.Answered> answers = new LinkedHashMap<>();
  private final SilentBoards boards;
  private final ToldSteps steps;
  private Beginning beginning;
  private long settledUs = Long.MAX_VALUE;
  private Map<String, FieldSentences.Told> firstReported = reported;
  private boolean settled;
  private boolean begun;

  private ScenarioTeller(String name, Replay.Order order, Part part) throws Replay.Impossible {
    this.name = name;
    this.part = part;
    this.layout = order.layout();
    this.startTime = order.table().times().start();
    this.routes = List.copyOf(order.table().routes().keySet());
    this.start =
        order
            .session()
            .start()
            .orElseThrow(
                () ->
                    new Replay.Impossible(
                        order.session().firstLine(),
                        "a scenario can be told only where the daemon's start is recorded"));
    this.beganUs = order.session().beganUs();
    this.field = new FieldSentences(layout);
    this.boards = new SilentBoards(layout);
    this.steps = new ToldSteps(boards::isDeaf);
    this.replay = Replay.made(order);
    for (Entry entry : order.session().entries()) {
      if (entry.item() instanceof Item.Answered answer) {
        answers.put(answer.number(), answer);
      }
    }
  }

  /**
   * Tells a session, or a part of it. A part begins at the last moment before it at which nothing
   * was lined and nobody was protected, since no sentence can put those back.
   *
   * @param name the name of the scenario
   * @throws Replay.Impossible if it cannot be told
   */
  public static Told tell(String name, Replay.Order order, Part part) throws Replay.Impossible {
    ScenarioTeller teller = new ScenarioTeller(name, order, part);
    teller.beginning = teller.beginning(0);
    Outcome outcome = teller.replay.outcome(teller.new Ears(), teller::before);
    return new Told(teller.text(), outcome);
  }

  private void before(Entry entry) {
    long nowUs = entry.timeUs() - beganUs;
    lookForABeginning(nowUs);
    settle(nowUs);
    Item item = entry.item();
    if (item instanceof Item.Told told) {
      tell(told, nowUs);
    } else if (item instanceof Item.Heard heard) {
      hear(heard.frame(), nowUs);
    } else if (item instanceof Item.Up up && up.asked()) {
      plug(nowUs);
    } else if (item instanceof Item.Overheard) {
      plug(nowUs);
    } else if (item instanceof Item.Down down && down.missed()) {
      pull(nowUs);
    }
  }

  /** The latest moment of rest before the part is where it begins. */
  private void lookForABeginning(long nowUs) {
    boolean isLater = nowUs - beginning.told().timeUs() >= US_PER_SECOND;
    if (settled && isLater && nowUs <= part.fromUs() && isAtRest()) {
      steps.beginAnew();
      beginning = beginning(nowUs);
    }
  }

  private Beginning beginning(long nowUs) {
    return new Beginning(
        new ScenarioText.Beginning(nowUs, new LinkedHashMap<>(expected), clock(nowUs)),
        new LinkedHashMap<>(reported));
  }

  private boolean isAtRest() {
    Interlocking interlocking = replay.box().interlocking();
    return interlocking.protections().isEmpty()
        && routes.stream().noneMatch(interlocking::routeLocked);
  }

  private void settle(long nowUs) {
    if (settled || nowUs < settledUs) {
      return;
    }
    settled = true;
    if (!begun) {
      begun = true;
      firstReported = new LinkedHashMap<>(reported);
      protectAsBefore(settledUs);
    }
    expected.forEach((device, sentence) -> steps.expect(device, sentence, settledUs));
    steps.moment();
  }

  /** Who was protected from before is so by a sentence here. */
  private void protectAsBefore(long nowUs) {
    for (Protection held : replay.protectedBefore()) {
      steps.add("tell", command(held), nowUs);
    }
  }

  private static String command(Protection held) {
    String holder = "'" + held.holder() + "'";
    String because = held.reason().map(why -> " because '" + why + "'").orElse("");
    String where = String.join(", ", held.devices());
    String command =
        held.by() == Protected.PERMIT
            ? "grant permit to %s on %s".formatted(holder, where)
            : held.by() == Protected.FLAG
                ? "flag %s by %s".formatted(where, holder)
                : "block %s %s for %s".formatted(held.by().device().word(), where, holder);
    return command + because;
  }

  private void tell(Item.Told told, long nowUs) {
    Optional<Item.Answered> refusal =
        Optional.ofNullable(answers.get(told.number())).filter(answer -> !answer.granted());
    steps.moment();
    steps.add(
        refusal
            .map(
                answer ->
                    "{tell: %s, refused: %s}"
                        .formatted(quoted(told.sentence()), quoted(clause(answer.words()))))
            .orElseGet(() -> "tell: " + quoted(told.sentence())),
        nowUs);
  }

  /** The first clause of an answer; what follows tells times and reasons. */
  private static String clause(String words) {
    String first = words.lines().findFirst().orElse("").strip();
    String clause = first.endsWith(":") ? first.substring(0, first.length() - 1) : first;
    int since = clause.indexOf(" since ");
    return since < 0 ? clause : clause.substring(0, since);
  }

  private void plug(long nowUs) {
    boolean late = !begun && nowUs > PLUGGED_US;
    if (late) {
      steps.insert("fault: cable is pulled", 0);
    }
    if (begun || late) {
      steps.add("happens", "cable is plugged in", nowUs);
    }
    settledUs = nowUs + SETTLED_US;
  }

  /** What the box tells nobody hears, until all has settled again. */
  private void pull(long nowUs) {
    steps.moment();
    steps.add("fault", "cable is pulled", nowUs);
    settled = false;
    settledUs = Long.MAX_VALUE;
  }

  private void hear(CanFrame frame, long nowUs) {
    Message message = Messages.decode(frame);
    if (message instanceof Message.EventReport report) {
      report(report.event(), true, nowUs);
    } else if (message instanceof Message.ProducerIdentified told) {
      if (told.validity() == Validity.VALID) {
        report(told.event(), false, nowUs);
      } else {
        forget(told.event(), nowUs);
      }
    } else if (message instanceof Message.InitializationComplete complete && settled) {
      boards
          .rebooted(complete.node(), nowUs)
          .forEach(board -> steps.add("fault", words(board) + " reboots", nowUs));
    }
    boards.hear(message, frame.sourceAlias(), nowUs);
  }

  /**
   * Nobody knows when it fell silent since it was last heard, nor what it has carried out since.
   */
  private void fallSilent(Board board) {
    long sinceUs = boards.fallSilent(board);
    steps.takeBack(device -> SilentBoards.carries(board, device), sinceUs);
    steps.insert("fault: " + quoted(words(board) + " falls silent"), sinceUs);
  }

  private void speakAgain(Board board, long nowUs) {
    if (boards.speakAgain(board, nowUs)) {
      steps.add("fault", words(board) + " speaks again", nowUs);
    }
  }

  /**
   * A state that is told again is nothing new; a moment that is only identified has not come.
   *
   * <p>A board of the simulator that comes to report something else says first that the other is
   * not so, which makes the device unknown for a moment; one that reports both before does not.
   */
  private void report(EventId event, boolean reported, long nowUs) {
    Optional<FieldSentences.Told> told = field.of(event);
    if (told.isEmpty() || (told.get().isMoment() && !reported)) {
      return;
    }
    FieldSentences.Told said = told.get();
    FieldSentences.Told before = said.isMoment() ? null : this.reported.put(said.device(), said);
    if (said.equals(before)) {
      return;
    }
    if (before != null && before.unknown().isPresent() && before.place() < said.place()) {
      happen(said.device() + " reports both", nowUs);
    }
    happen(said.sentence(), nowUs);
  }

  private void forget(EventId event, long nowUs) {
    field
        .of(event)
        .filter(told -> told.equals(reported.get(told.device())))
        .ifPresent(
            told -> {
              reported.remove(told.device());
              told.unknown().ifPresent(nothing -> happen(nothing, nowUs));
            });
  }

  /** What is said while boards first answer is so from the beginning. */
  private void happen(String sentence, long nowUs) {
    if (settled) {
      steps.add("happens", sentence, nowUs);
    }
  }

  /** Hears what the box tells the field. */
  private final class Ears implements BoxListener {

    @Override
    public void alarmRaised(String what) {
      if (settled) {
        boards.missed(what).ifPresent(ScenarioTeller.this::fallSilent);
      }
    }

    @Override
    public void alarmCleared(String what) {
      boards.missed(what).ifPresent(board -> speakAgain(board, nowUs()));
    }

    @Override
    public void stepped(Step step) {
      settle(nowUs());
      step.outputs().stream()
          .flatMap(output -> OrderSentences.of(output).stream())
          .forEach(
              each -> {
                expected.put(each.device(), each.sentence());
                if (settled) {
                  steps.expect(each.device(), each.sentence(), nowUs());
                }
              });
    }
  }

  private long nowUs() {
    return replay.nowUs() - beganUs;
  }

  /** The layout's clock as it is to be when the daemon of the scenario is switched on. */
  private Optional<ClockPlan.Run> clock(long nowUs) {
    return start.clock() instanceof ClockPlan.Run run
        ? Optional.of(new ClockPlan.Run(run.clock(), run.rate(), time(run, nowUs)))
        : Optional.empty();
  }

  private Time time(ClockPlan.Run run, long nowUs) {
    var shown = replay.box().minuteOfDay();
    if (nowUs == 0 || shown.isEmpty()) {
      return run.time();
    }
    long fastSeconds = startTime.plus(ANSWERING).toSeconds() * run.rate().quarters() / QUARTERS;
    int minute =
        Math.floorMod(shown.getAsInt() - (int) (fastSeconds / SECONDS_PER_MINUTE), MINUTES_PER_DAY);
    return new Time(minute / MINUTES_PER_HOUR, minute % MINUTES_PER_HOUR);
  }

  private String text() {
    List<ToldSteps.Step> told =
        steps.inOrder().stream().filter(step -> step.timeUs() <= part.toUs()).toList();
    return ScenarioText.of(name, layout.name(), beginning.told(), given(), told);
  }

  /** What each device says from the beginning, so that none says what the simulator makes of it. */
  private List<String> given() {
    Map<String, String> said = new LinkedHashMap<>(field.silent());
    Map<String, FieldSentences.Told> heard =
        beginning.told().isWhole() ? firstReported : beginning.reported();
    heard.forEach((device, told) -> said.put(device, told.sentence()));
    return said.values().stream().filter(sentence -> !sentence.endsWith(" is replaced")).toList();
  }
}
