package tappet.bridge.replay;

import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.Outfit;
import tappet.bridge.box.ProtectionKeeping;
import tappet.bridge.box.ProtectionText;
import tappet.bridge.box.SignalBox;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.bridge.record.Entry;
import tappet.bridge.record.Item;
import tappet.bridge.record.Session;
import tappet.interlocking.Answer;
import tappet.interlocking.Interlocking;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Protection;
import tappet.layout.Layout;
import tappet.lcc.AliasSeed;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;
import tappet.network.Explanation;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * One recorded session, lived through by a box of its own on virtual time. The same session, layout
 * and rules always give the same.
 */
public final class Replay {

  /** By this the daemon is known where a recording does not name it. */
  private static final NodeId SOME_NODE = NodeId.of("0A.57.00.00.00.01");

  private static final String UNNAMED = "the recorded bus";
  private static final long NS_PER_US = 1_000;

  /**
   * What is to be replayed.
   *
   * @param session what was recorded
   * @param layout the layout it was recorded on
   * @param table the rules as they are now
   * @param tolerance how far from its time then an event may be said
   * @param node the daemon's node id, for a recording that does not name it
   */
  public record Order(
      Session session,
      Layout layout,
      ControlTable table,
      Duration tolerance,
      Optional<NodeId> node) {}

  /** The session cannot be replayed; the message says why, in an owner's words. */
  public static final class Impossible extends Exception {
    private static final long serialVersionUID = 1;

    private final int line;

    Impossible(int line, String why) {
      super(why, null, false, false);
      this.line = line;
    }

    /** The line of the recording where it fails. */
    public int line() {
      return line;
    }
  }

  private final Session session;
  private final Interlocking interlocking;
  private final SignalBox box;
  private final long toleranceUs;
  private final Comparison comparison;
  private final ReplayStore store = new ReplayStore();
  private final Map<Long, Asked> asked = new HashMap<>();
  private final List<Difference> differences = new ArrayList<>();
  private final List<String> remarks = new ArrayList<>();
  private final Optional<FirstHeard> firstHeard;
  private final List<Protection> protectedBefore;

  private Consumer<Entry> beforeEach = entry -> {};
  private Entry current;
  private Item.Told latestTold;
  private long latestToldNs;
  private String origin = UNNAMED;
  private long nowNs;
  private long inputs;
  private long answers;
  private boolean failed;
  private boolean ended;

  /** A request that was made, and the answer to it once there is one. */
  private record Asked(String sentence, CompletableFuture<Answer> answer) {}

  private Replay(Order order, Session session, AliasSeed seed, Optional<NodeId> node)
      throws Impossible {
    this.session = session;
    this.toleranceUs = order.tolerance().toNanos() / NS_PER_US;
    Spoken spoken = new Spoken(order.layout());
    this.comparison = new Comparison(then(session), spoken, toleranceUs);
    this.interlocking = new Interlocking(order.layout(), order.table());
    Optional<Item.Started> start = session.start();
    NodeId id = start.map(Item.Started::node).or(() -> node).orElse(SOME_NODE);
    KeptProtections kept = protections(start);
    this.protectedBefore = kept.protections();
    this.box =
        new SignalBox(
            id, interlocking, this::said, new BoxListener() {}, outfit(start, seed, kept));
    this.firstHeard =
        start.isPresent()
            ? Optional.empty()
            : Optional.of(new FirstHeard(order.layout(), order.table().times().start()));
    this.current = session.entries().get(0);
    this.nowNs = session.beganUs() * NS_PER_US;
  }

  /** What the box had then. */
  private Outfit outfit(Optional<Item.Started> start, AliasSeed seed, KeptProtections kept) {
    return new Outfit(
        start.map(Item.Started::clock).orElseGet(ClockPlan.None::new),
        new Keeping(
            start.map(Item.Started::version).orElse(""),
            new KeptState("", "", seed, 0),
            state -> {}),
        new ProtectionKeeping(kept, store, this::wallClock));
  }

  /** The box, for looking at. */
  SignalBox box() {
    return box;
  }

  /** When it is, in microseconds since 1970-01-01 00:00 UTC. */
  long nowUs() {
    return nowNs / NS_PER_US;
  }

  /** Who was protected when the session began. */
  List<Protection> protectedBefore() {
    return protectedBefore;
  }

  private KeptProtections protections(Optional<Item.Started> start) throws Impossible {
    try {
      return start
          .map(begun -> ProtectionText.read(begun.protections()))
          .orElse(KeptProtections.NONE);
    } catch (IllegalArgumentException e) {
      throw new Impossible(
          session.firstLine(), "the protections that stood cannot be read: " + e.getMessage());
    }
  }

  /**
   * Replays a session.
   *
   * @throws Impossible if it cannot be replayed on this layout
   */
  public static Outcome of(Order order) throws Impossible {
    return of(order, new BoxListener() {});
  }

  /**
   * Replays a session while somebody listens to the box.
   *
   * @throws Impossible if it cannot be replayed on this layout
   */
  public static Outcome of(Order order, BoxListener listener) throws Impossible {
    return made(order).outcome(listener, entry -> {});
  }

  /** A replay that has not begun yet. */
  static Replay made(Order order) throws Impossible {
    Session session = order.session();
    if (session.start().isPresent()) {
      Item.Started start = session.start().get();
      if (!start.layout().equals(order.layout().name())) {
        throw new Impossible(
            session.firstLine(),
            "this was recorded on '%s', and the layout is '%s'"
                .formatted(start.layout(), order.layout().name()));
      }
      return new Replay(order, session, start.seed(), Optional.of(start.node()));
    }
    try {
      Spoken spoken = new Spoken(order.layout());
      OwnFrames.Daemon daemon = OwnFrames.find(session, order.node(), spoken);
      AliasSeed first = new AliasSeed(daemon.aliases().get(0));
      return new Replay(order, OwnFrames.marked(session, daemon), first, daemon.node());
    } catch (OwnFrames.Unknown e) {
      throw new Impossible(
          session.firstLine(), e.getMessage() + "; say with --node which node the daemon was");
    }
  }

  private static List<Comparison.Output> then(Session session) {
    List<Comparison.Output> outputs = new ArrayList<>();
    for (Entry entry : session.entries()) {
      if (entry.item() instanceof Item.Sent sent
          && Messages.decode(sent.frame()) instanceof Message.EventReport report) {
        outputs.add(new Comparison.Output(entry.timeUs(), report.event(), entry.line()));
      }
    }
    return outputs;
  }

  /**
   * Goes through the session.
   *
   * @param listener hears the box
   * @param before is told each entry before the box is given it
   */
  Outcome outcome(BoxListener listener, Consumer<Entry> before) throws Impossible {
    box.tellToo(listener);
    beforeEach = before;
    remarkOnTheBeginning();
    box.start(nowNs);
    if (session.start().isEmpty()) {
      box.connectionUp(UNNAMED, true, nowNs);
    }
    for (Entry entry : session.entries()) {
      take(entry);
    }
    if (!ended) {
      remarks.add("it has no end: the daemon was killed, or recorded further than this");
      letTimePass(session.endedUs() + toleranceUs);
    }
    comparison.pass(Long.MAX_VALUE / 2);
    lookAtFindings();
    boolean compared = firstHeard.map(FirstHeard::isOver).orElse(true);
    if (!compared) {
      remarks.add(
          "nothing was compared, for not heard of until the end: " + firstHeard.get().missing());
    }
    return new Outcome(
        session.beganUs(),
        session.endedUs(),
        differences,
        remarks,
        inputs,
        comparison.matched(),
        answers,
        comparison.furthestUs(),
        compared);
  }

  private void remarkOnTheBeginning() {
    if (session.start().isEmpty()) {
      remarks.add(
          "it does not tell of the start of the daemon, nor what people asked: what was lined"
              + " before is not known, and events are compared once every device has been heard");
    }
  }

  private void take(Entry entry) throws Impossible {
    boolean saidThen = entry.item() instanceof Item.Sent;
    actOnWhatIsDue(entry.timeUs() * NS_PER_US, saidThen);
    current = entry;
    beforeEach.accept(entry);
    if (!saidThen) {
      nowNs = entry.timeUs() * NS_PER_US;
      box.advance(nowNs);
      give(entry.item());
    }
    comparison.pass(entry.timeUs());
    firstHeard.ifPresent(this::waitForAll);
    lookAtFindings();
  }

  /**
   * Lets the box do what is due until the next entry. A daemon wakes up a little late, and its node
   * goes on from then: where the next entry is what it said, it did what was due at that moment. In
   * the interlocking each time runs out at its own moment, however late that is noticed.
   */
  private void actOnWhatIsDue(long untilNs, boolean saidThen) {
    for (long dueNs = dueNs(); dueNs <= untilNs; dueNs = dueNs()) {
      boolean ofTheNode = interlocking.deadlineNs().orElse(Long.MAX_VALUE) > dueNs;
      boolean late = saidThen && ofTheNode && untilNs - dueNs <= toleranceUs * NS_PER_US;
      nowNs = late ? untilNs : dueNs;
      box.advance(nowNs);
    }
  }

  private long dueNs() {
    return Math.max(box.deadlineNs().orElse(Long.MAX_VALUE), nowNs + 1);
  }

  private void letTimePass(long untilUs) {
    actOnWhatIsDue(untilUs * NS_PER_US, false);
    comparison.pass(untilUs);
    lookAtFindings();
  }

  private void give(Item item) throws Impossible {
    if (item instanceof Item.Heard heard) {
      inputs++;
      firstHeard.ifPresent(first -> first.hear(heard.frame()));
      box.frameArrived(origin, heard.frame(), nowNs);
    } else if (item instanceof Item.From from) {
      origin = from.connection();
    } else if (item instanceof Item.Up up) {
      box.connectionUp(up.connection(), up.asked(), nowNs);
    } else if (item instanceof Item.Overheard up) {
      box.overheard(up.connection(), nowNs);
    } else if (item instanceof Item.Down down) {
      box.connectionDown(down.connection(), down.why(), down.missed(), nowNs);
    } else if (item instanceof Item.InputLost) {
      box.inputLost(nowNs);
    } else if (item instanceof Item.Told told) {
      inputs++;
      ask(told);
    } else if (item instanceof Item.Answered answer) {
      compare(answer);
    } else if (item instanceof Item.Kept kept) {
      store.done(kept.whyNot());
      box.advance(nowNs);
    } else if (item instanceof Item.Exchanged) {
      remarks.add(
          "line %d: other files took over here; what follows was said by other rules"
              .formatted(current.line()));
    } else if (item instanceof Item.Missing missing) {
      remarks.add(
          "line %d: %d things could not be written down; what follows may differ for it"
              .formatted(current.line(), missing.count()));
    } else if (item instanceof Item.Ended) {
      ended = true;
      box.stop(nowNs);
    }
  }

  private void ask(Item.Told told) throws Impossible {
    latestTold = told;
    latestToldNs = nowNs;
    Problems problems = new Problems();
    Optional<Command> command =
        Sentences.command(told.sentence(), Place.inText("sentence", 1), problems);
    if (command.isEmpty()) {
      Problem first = problems.sorted().get(0);
      throw new Impossible(
          current.line(),
          "'%s' is not understood: %s; %s"
              .formatted(told.sentence(), first.wrong(), first.meant()));
    }
    asked.put(told.number(), new Asked(told.sentence(), answer(command.get())));
  }

  private CompletableFuture<Answer> answer(Command command) {
    return command instanceof Command.OfProtection order
        ? box.protect(order, nowNs)
        : CompletableFuture.completedFuture(box.tell(command, nowNs));
  }

  /** The time by which a protection is said to stand; people read its minutes. */
  private Optional<LocalDateTime> wallClock() {
    return Optional.ofNullable(latestTold)
        .flatMap(Item.Told::at)
        .map(at -> at.plusNanos(nowNs - latestToldNs).withNano(0));
  }

  private void compare(Item.Answered then) {
    Asked request = asked.remove(then.number());
    if (request == null) {
      return;
    }
    String said = words(then.granted(), then.words());
    String now =
        Optional.ofNullable(request.answer().getNow(null))
            .map(answer -> words(answer.granted(), answer.explanation().text()))
            .orElse("not answered");
    if (said.equals(now)) {
      answers++;
    } else {
      add(
          new Difference(
              current.timeUs(),
              current.line(),
              "the answer to '" + request.sentence() + "'",
              said,
              now,
              List.of()));
    }
  }

  private static String words(boolean granted, String words) {
    return (granted ? "done: " : "refused: ") + words.strip();
  }

  private void said(CanFrame frame) {
    if (Messages.decode(frame) instanceof Message.EventReport report) {
      comparison.says(report.event(), nowNs / NS_PER_US, current.line());
    }
  }

  /** Nothing is compared before every device has been heard. */
  private void waitForAll(FirstHeard first) {
    if (!first.isOver()) {
      first.look(nowNs);
      comparison.forget(current.line());
    }
  }

  /** The box is asked why at the moment at which something has been found to differ. */
  private void lookAtFindings() {
    for (Comparison.Finding finding : comparison.take()) {
      if (finding.timeUs() <= session.endedUs()) {
        List<String> why =
            box.why(finding.said().id(), nowNs).map(Explanation::text).stream().toList();
        add(
            new Difference(
                finding.timeUs(),
                finding.line(),
                finding.said().device(),
                finding.then(),
                finding.now(),
                why));
      }
    }
    if (box.hasFailed() && !failed) {
      failed = true;
      add(
          new Difference(
              current.timeUs(),
              current.line(),
              "the interlocking",
              "worked",
              "has failed; the log tells how",
              List.of()));
    }
  }

  private void add(Difference difference) {
    differences.add(difference);
  }
}
