package tappet.bridge.replay;

import static tappet.source.YamlText.quoted;
import static tappet.bridge.replay.FieldSentences.name;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
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
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.ClockTexts;
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

  private static final String WITHIN = "3 s";

  /** A bolt takes its time. */
  private static final String WITHIN_OF_A_BOLT = "20 s";

  private static final long US_PER_SECOND = 1_000_000L;
  private static final double US_PER_MS = 1e3;
  private static final int SECONDS_PER_MINUTE = 60;
  private static final int QUARTERS = 4;
  private static final String NOBODY = "";
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

  /** Where the scenario can begin: what was known and told there. */
  private record Beginning(
      long timeUs,
      Map<String, FieldSentences.Told> reported,
      Map<String, String> expected,
      Optional<Time> clock) {}

  /**
   * Something in the scenario, and when it is.
   *
   * @param device what it is expected of; empty where nothing is expected
   */
  private record Timed(long timeUs, String step, String device) {}

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

  /** What is known of the boards that speak. */
  private final Map<Integer, NodeId> nodes = new HashMap<>();

  private final Map<NodeId, Long> lastHeardUs = new HashMap<>();
  private final Map<Board, Long> spokeAgainUs = new HashMap<>();
  private final Set<Board> silent = new HashSet<>();

  /** By device: what the box has last told it. */
  private final Map<String, String> expected = new LinkedHashMap<>();

  /** By device: what it was told at this very moment. */
  private final Map<String, String> justExpected = new LinkedHashMap<>();

  private final Map<Long, Item.Answered> answers = new LinkedHashMap<>();
  private final List<Timed> steps = new ArrayList<>();
  private Beginning beginning;
  private long settledUs = Long.MAX_VALUE;
  private Map<String, FieldSentences.Told> firstReported = reported;
  private long expectedUs;
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
    teller.flush();
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
    } else if (item instanceof Item.Down down && down.missed()) {
      pull(nowUs);
    }
  }

  /** The latest moment of rest before the part is where it begins. */
  private void lookForABeginning(long nowUs) {
    boolean isLater = nowUs - beginning.timeUs() >= US_PER_SECOND;
    if (settled && isLater && nowUs <= part.fromUs() && isAtRest()) {
      flush();
      steps.clear();
      beginning = beginning(nowUs);
    }
  }

  private Beginning beginning(long nowUs) {
    return new Beginning(
        nowUs, new LinkedHashMap<>(reported), new LinkedHashMap<>(expected), clock(nowUs));
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
    expected.forEach((device, sentence) -> expect(device, sentence, settledUs));
    flush();
  }

  /** Who was protected from before is so by a sentence here. */
  private void protectAsBefore(long nowUs) {
    for (Protection held : replay.protectedBefore()) {
      add("tell", command(held), nowUs);
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
    flush();
    step(
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
      steps.add(new Timed(0, "fault: cable is pulled", NOBODY));
    }
    if (begun || late) {
      add("happens", "cable is plugged in", nowUs);
    }
    settledUs = nowUs + SETTLED_US;
  }

  /** What the box tells nobody hears, until all has settled again. */
  private void pull(long nowUs) {
    flush();
    add("fault", "cable is pulled", nowUs);
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
      layout.boards().values().stream()
          .filter(board -> board.node().equals(complete.node()))
          .filter(board -> !isBack(board, nowUs))
          .forEach(board -> add("fault", words(board) + " reboots", nowUs));
    }
    hearWho(message, frame.sourceAlias(), nowUs);
  }

  private void hearWho(Message message, int alias, long nowUs) {
    if (message instanceof Message.AliasMapDefinition map) {
      nodes.put(alias, map.node());
    } else if (message instanceof Message.InitializationComplete complete) {
      nodes.put(alias, complete.node());
    } else if (message instanceof Message.VerifiedNodeId verified) {
      nodes.put(alias, verified.node());
    }
    if (nodes.containsKey(alias)) {
      lastHeardUs.put(nodes.get(alias), nowUs);
    }
  }

  /** A board that was missed begins anew when it speaks again. */
  private boolean isBack(Board board, long nowUs) {
    boolean justNow = nowUs - spokeAgainUs.getOrDefault(board, -SETTLED_US) < SETTLED_US;
    return silent.contains(board) || justNow;
  }

  /**
   * Nobody knows when it fell silent since it was last heard, nor what it has carried out since.
   */
  private void fallSilent(Board board) {
    silent.add(board);
    long sinceUs = lastHeardUs.getOrDefault(board.node(), 0L);
    steps.removeIf(each -> each.timeUs() > sinceUs && carries(board, each.device()));
    steps.add(new Timed(sinceUs, "fault: " + quoted(words(board) + " falls silent"), NOBODY));
  }

  private static boolean carries(Board board, String device) {
    return board.signals().stream().anyMatch(id -> device.equals("signal " + name(id)))
        || board.switches().stream().anyMatch(id -> device.equals("lock of " + name(id)))
        || board.lineside().stream()
            .anyMatch(each -> device.equals(each.kind() + " " + name(each.id())));
  }

  private static String words(Board board) {
    return "board " + name(board.id());
  }

  private Optional<Board> missed(String alarm) {
    return layout.boards().values().stream()
        .filter(
            board ->
                alarm.startsWith("board " + board.id() + " (" + board.name() + ") does not answer"))
        .findFirst();
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
      add("happens", sentence, nowUs);
    }
  }

  /** Hears what the box tells the field. */
  private final class Ears implements BoxListener {

    @Override
    public void alarmRaised(String what) {
      if (settled) {
        missed(what).ifPresent(ScenarioTeller.this::fallSilent);
      }
    }

    @Override
    public void alarmCleared(String what) {
      missed(what)
          .filter(silent::remove)
          .ifPresent(
              board -> {
                long nowUs = replay.nowUs() - beganUs;
                spokeAgainUs.put(board, nowUs);
                add("fault", words(board) + " speaks again", nowUs);
              });
    }

    @Override
    public void stepped(Step step) {
      long nowUs = replay.nowUs() - beganUs;
      settle(nowUs);
      step.outputs().stream()
          .flatMap(output -> OrderSentences.of(output).stream())
          .forEach(
              each -> {
                expected.put(each.device(), each.sentence());
                if (settled) {
                  expect(each.device(), each.sentence(), nowUs);
                }
              });
    }
  }

  /** Of what is told at one moment the last is what can be seen. */
  private void expect(String device, String sentence, long nowUs) {
    if (nowUs != expectedUs) {
      flush();
      expectedUs = nowUs;
    }
    justExpected.remove(device);
    justExpected.put(device, sentence);
  }

  private void flush() {
    Map<String, String> sentences = new LinkedHashMap<>(justExpected);
    justExpected.clear();
    sentences.forEach(
        (device, sentence) -> {
          String within = device.startsWith("opening ") ? WITHIN_OF_A_BOLT : WITHIN;
          String step = "{expect: %s, within: %s}".formatted(quoted(sentence), within);
          if (silent.stream().noneMatch(board -> carries(board, device))) {
            steps.add(new Timed(expectedUs, step, device));
          }
        });
  }

  private void add(String key, String sentence, long nowUs) {
    step(key + ": " + quoted(sentence), nowUs);
  }

  private void step(String step, long nowUs) {
    if (nowUs != expectedUs) {
      flush();
    }
    steps.add(new Timed(nowUs, step, NOBODY));
  }

  /** What the layout's clock shows when the daemon of the scenario is switched on. */
  private Optional<Time> clock(long nowUs) {
    if (!(start.clock() instanceof ClockPlan.Run run)) {
      return Optional.empty();
    }
    var shown = replay.box().minuteOfDay();
    if (nowUs == 0 || shown.isEmpty()) {
      return Optional.of(run.time());
    }
    long fastSeconds = startTime.plus(ANSWERING).toSeconds() * run.rate().quarters() / QUARTERS;
    int minute =
        Math.floorMod(shown.getAsInt() - (int) (fastSeconds / SECONDS_PER_MINUTE), MINUTES_PER_DAY);
    return Optional.of(new Time(minute / MINUTES_PER_HOUR, minute % MINUTES_PER_HOUR));
  }

  private String text() {
    boolean whole = beginning.timeUs() == 0;
    StringBuilder text = new StringBuilder();
    text.append("# Written by 'tappet replay'.\n");
    text.append("scenario: ").append(quoted(name)).append('\n');
    text.append(about(whole));
    if (whole) {
      text.append("begins: switched on\n");
    }
    if (start.clock() instanceof ClockPlan.Run run) {
      Time time = beginning.clock().orElseThrow();
      text.append(
          "clock: {rate: %s, time: '%02d:%02d'}%n"
              .formatted(
                  ClockTexts.words(run.rate()).replace(":1", ""), time.hour(), time.minute()));
    }
    text.append("given:\n");
    given(whole).forEach(sentence -> text.append("  - ").append(quoted(sentence)).append('\n'));
    text.append("steps:\n");
    if (!whole) {
      beginning
          .expected()
          .values()
          .forEach(
              sentence ->
                  text.append(
                      "  - {expect: %s, within: %s}%n"
                          .formatted(quoted(sentence), WITHIN_OF_A_BOLT)));
    }
    append(text);
    return text.toString();
  }

  private void append(StringBuilder text) {
    long toldUs = beginning.timeUs();
    for (Timed each : steps.stream().sorted(Comparator.comparingLong(Timed::timeUs)).toList()) {
      if (each.timeUs() <= part.toUs()) {
        long passes = each.timeUs() - toldUs;
        if (passes > 0) {
          text.append(String.format(Locale.ROOT, "  - pass: %.3f ms%n", passes / US_PER_MS));
          toldUs = each.timeUs();
        }
        text.append("  - ").append(each.step()).append('\n');
      }
    }
    text.append("  - pass: 1 s\n");
  }

  private String about(boolean whole) {
    String begins =
        whole
            ? "from the start of the daemon on"
            : "from %d s after the start of the daemon on, when nothing was lined"
                .formatted(beginning.timeUs() / US_PER_SECOND);
    return """
        about: >-
          What the boards of '%s' reported and people asked in a recorded session, %s, and what the
          signals, locks, lamps, crossings and bolts were told then. Trains are not on this track:
          each report of a board is told as it was heard, whatever caused it, and no board of the
          simulator says anything else.
        """
        .formatted(layout.name().replace("\n", " "), begins);
  }

  /** What each device says from the beginning, so that none says what the simulator makes of it. */
  private List<String> given(boolean whole) {
    Map<String, String> said = new LinkedHashMap<>(field.silent());
    Map<String, FieldSentences.Told> heard = whole ? firstReported : beginning.reported();
    heard.forEach((device, told) -> said.put(device, told.sentence()));
    return said.values().stream().filter(sentence -> !sentence.endsWith(" is replaced")).toList();
  }
}
