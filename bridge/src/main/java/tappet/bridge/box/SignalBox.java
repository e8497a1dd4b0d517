package tappet.bridge.box;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Collections;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.field.Field;
import tappet.bridge.node.BoardWatch;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.LayoutClock;
import tappet.bridge.node.NodeMemory;
import tappet.bridge.node.NoticeWatch;
import tappet.bridge.node.Surroundings;
import tappet.interlocking.Answer;
import tappet.interlocking.ChangedDevice;
import tappet.interlocking.Input;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Moment;
import tappet.interlocking.Output;
import tappet.interlocking.Step;
import tappet.interlocking.Succession;
import tappet.layout.Board;
import tappet.layout.Signal;
import tappet.lcc.CanFrame;
import tappet.lcc.DatagramService;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Identity;
import tappet.lcc.LccNode;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockReading;
import tappet.network.Explanation;
import tappet.sentence.Command;

/**
 * Node, field and interlocking as one thing that is stepped. Time is an argument, in nanoseconds of
 * a clock that never runs back; one thread at a time.
 */
public final class SignalBox {

  private static final Logger LOG = LoggerFactory.getLogger(SignalBox.class);

  /** As long as those who watch the box wait for its answer. */
  private static final long STOOD_STILL_NS = 5_000_000_000L;

  private static final String NO_ORIGIN = "";
  private static final String TWIN = "another node uses the daemon's id";
  private static final Answer HAS_FAILED =
      new Answer(false, Explanation.fact("the interlocking has failed; restart the daemon"));

  private static final Answer BEING_KEPT =
      new Answer(false, Explanation.fact("it is not yet kept, and so not confirmed"));

  private Interlocking interlocking;
  private Field field;
  private final LccNode.Application application = new Application();
  private final LccNode node;
  private final BoardWatch boards;
  private final NodeMemory memory;
  private final LayoutClock clock;
  private final NoticeWatch notices;
  private final ListenerGuard listener;
  private final Alarms alarms;
  private final ProtectionKeeper keeper;
  private final HeartbeatSender heartbeat;
  private final ProtectionKeeping protection;
  private final Inquiry inquiry;
  private final Reach reach;
  private final Welcome welcome = new Welcome(this::speakToAll);
  private final Deque<Input> inputs = new ArrayDeque<>();

  private final Map<String, Boolean> connections = new LinkedHashMap<>();
  private final Set<String> overheard = new LinkedHashSet<>();

  private String origin = NO_ORIGIN;
  private long latestNs;
  private OptionalInt minuteOfDay = OptionalInt.empty();
  private boolean begun;
  private boolean failed;

  /**
   * A box that has no clock, and remembers nothing while it is off.
   *
   * @param id the daemon's own node
   * @param toBus takes each frame that the node sends
   */
  public SignalBox(
      NodeId id, Interlocking interlocking, Consumer<CanFrame> toBus, BoxListener listener) {
    this(id, interlocking, toBus, listener, Outfit.forgetful(id, new ClockPlan.None()));
  }

  /**
   * @param id the daemon's own node
   * @param toBus takes each frame that the node sends
   */
  public SignalBox(
      NodeId id,
      Interlocking interlocking,
      Consumer<CanFrame> toBus,
      BoxListener listener,
      Outfit outfit) {
    this.protection = outfit.protections();
    this.interlocking = interlocking;
    this.field = new Field(interlocking.layout());
    this.listener = new ListenerGuard(listener);
    this.alarms = new Alarms(this.listener);
    this.boards = new BoardWatch(interlocking.layout().boards().values(), new Boards());
    this.node =
        new LccNode(
            id,
            application,
            frame -> {
              toBus.accept(frame);
              this.listener.frameSent(frame, latestNs);
            },
            outfit.node().kept().aliasSeed());
    this.memory = new NodeMemory(id, interlocking.layout(), outfit.node(), new MemoryBox());
    Surroundings around = new Around();
    this.clock = LayoutClock.of(outfit.clock(), around);
    this.notices = new NoticeWatch(around);
    this.inquiry = new Inquiry(() -> field, node::identifyProducer, alarms::allAnswered);
    this.reach = new Reach(() -> field, boards, connections, overheard);
    this.heartbeat = new HeartbeatSender(interlocking.layout().heartbeat(), node::report);
    this.keeper =
        new ProtectionKeeper(
            interlocking, protection.store(), alarms, this::request, this.listener::kept);
    interlocking.restore(protection.kept());
  }

  /** Lets somebody more hear what goes on; before the start, or some of it is missed. */
  public void tellToo(BoxListener another) {
    listener.add(another);
  }

  /** Begins with every signal at Stop; the field is told so as soon as the node may speak. */
  public void start(long nowNs) {
    latestNs = nowNs;
    listener.started(nowNs);
    carryOut(interlocking.start(nowNs));
    keeper.start(nowNs);
  }

  /** Leaves every signal at Stop, for nobody will watch the railroad any more. */
  public void stop(long nowNs) {
    latestNs = nowNs;
    listener.stopped(nowNs);
    node.advance(nowNs);
    everySignalToStop();
    memory.end();
  }

  /** A frame has come in. */
  public void frameArrived(String from, CanFrame frame, long nowNs) {
    latestNs = nowNs;
    listener.frameHeard(from, frame, nowNs);
    origin = from;
    boards.hear(frame, from, nowNs);
    node.receive(frame, nowNs);
    origin = NO_ORIGIN;
    clock.hear(frame, from, nowNs);
    notices.hear(frame, nowNs);
    watchForDuplicate();
    takeInputs(nowNs);
  }

  /**
   * S-9.7.2.1 §6.2.6: a node that meets its own id falls silent if it was permitted to speak, and
   * its user is to be told.
   */
  private void watchForDuplicate() {
    if (node.duplicateNodeId()) {
      String silent = node.silent() ? ": the daemon is silent" : "";
      alarms.raiseInstead(
          TWIN, TWIN + " %s%s; give each its own, and restart".formatted(node.id(), silent));
    }
  }

  private void noDuplicateAnyMore() {
    if (!node.duplicateNodeId()) {
      alarms.clear(TWIN);
    }
  }

  /**
   * A connection has come up. A node that has an alias puts signals right at once; one that is
   * still reserving it begins anew, for an alias counts only where everybody has heard it asked for
   * (S-9.7.2.1 §6.2.1). Two nodes of one alias that meet now settle that by themselves (§6.2.5).
   *
   * @param asked whether the owner's settings ask for it; clients that come and go do not keep the
   *     node from getting its alias
   */
  public void connectionUp(String name, boolean asked, long nowNs) {
    latestNs = nowNs;
    listener.connectionUp(name, asked, nowNs);
    alarms.clear(name + " ");
    connections.put(name, true);
    listener.changed(name + " is up");
    if (asked) {
      inputs.addAll(field.connected());
      takeInputs(nowNs);
    }
    if (node.ready()) {
      speakAgain(asked, nowNs);
    } else if (!begun || (asked && !node.silent())) {
      begun = true;
      node.start(nowNs);
    }
    takeInputs(nowNs);
  }

  /**
   * A connection has come up by which the box only hears. Nobody there hears the node: because of
   * it the node reserves no alias, and nothing is told or asked. What comes in is taken as by any
   * other connection; devices that nobody can ask are unknown until they report by themselves.
   */
  public void overheard(String name, long nowNs) {
    latestNs = nowNs;
    listener.overheard(name, nowNs);
    alarms.clear(name + " ");
    connections.put(name, true);
    overheard.add(name);
    listener.changed(name + " is up, and is only heard");
    node.listen();
  }

  /**
   * Nodes that were cut off may have forgotten this one, or never heard of it (TN-9.7.2.1 §4).
   * Whatever the node was still to ask is forgotten: devices are asked after it, not before.
   */
  private void speakAgain(boolean asked, long nowNs) {
    if (asked) {
      putRight(nowNs);
      node.announceAgain(nowNs);
      inquiry.askAll(nowNs);
    } else {
      welcome.visitorJoined(nowNs);
    }
  }

  /**
   * A connection has gone, or could not be made: whatever came by it is unknown from now on.
   *
   * @param missed whether its absence is an alarm even if nothing came by it
   */
  public void connectionDown(String name, String why, boolean missed, long nowNs) {
    latestNs = nowNs;
    listener.connectionDown(name, why, missed, nowNs);
    boolean carriedSomething = inputs.addAll(field.lose(name));
    clock.lose(name, nowNs);
    if (missed) {
      connections.put(name, false);
      inputs.addAll(field.connected());
    } else {
      connections.remove(name);
    }
    listener.changed(name + " " + why);
    if (missed) {
      alarms.raise(name + " " + why);
    } else {
      visitorLeft(name, why, carriedSomething);
    }
    takeInputs(nowNs);
    inquiry.goOnSoon(nowNs);
  }

  /** One that calls again does so from another port: its next parting is still its own. */
  private void visitorLeft(String name, String why, boolean carriedSomething) {
    alarms.clear(name + " ");
    if (carriedSomething) {
      String visitor = name.replaceFirst(":\\d+$", "") + " ";
      alarms.raiseInsteadUntilAnswered(visitor, visitor + why + "; what came by it is unknown");
    }
  }

  /**
   * A connection is cut off: it closes a ring of hubs, or sends back what it is told. Nothing comes
   * by it any more, so that it counts as down until it is put back. What is heard by the other way
   * of a ring is asked for at once.
   */
  public void cutOff(String name, String why, long nowNs) {
    connectionDown(name, why, true, nowNs);
    inquiry.goOn(nowNs);
  }

  /** Something is wrong with the line of a connection, which goes on. */
  public void trouble(String name, String what) {
    alarms.raise(name + " " + what);
  }

  /** What was wrong with it is over. */
  public void troubleOver(String name) {
    troubleOver(name, "");
  }

  /** What was said to be wrong with it, and began so, is over. */
  public void troubleOver(String name, String beginning) {
    alarms.clear(name + " " + beginning);
  }

  /** The rules are not known to be safe: that stands for as long as they are run. */
  public void rulesInDoubt(String what) {
    alarms.raise(what);
  }

  /** The rules of which that was said are run no more. */
  public void rulesNoLongerInDoubt(String what) {
    alarms.clear(what);
  }

  /** Something that came in was lost: nothing that is known can be trusted. */
  public void inputLost(long nowNs) {
    latestNs = nowNs;
    listener.inputLost(nowNs);
    trustNothing(
        "the daemon was overrun and lost what came in; every device is asked again", nowNs);
  }

  private void trustNothing(String why, long nowNs) {
    alarms.raiseUntilAnswered(why);
    inputs.addAll(field.loseAll());
    clock.loseAll(nowNs);
    takeInputs(nowNs);
    speakToAll(nowNs);
    takeInputs(nowNs);
  }

  /** What stands against new files taking the place of those that run; nothing is done. */
  public List<Succession.Reason> standsAgainst(Succession succession, long nowNs) {
    return whyNot().map(List::of).orElseGet(() -> ready(succession, nowNs).attempt().against());
  }

  private Optional<Succession.Reason> whyNot() {
    if (failed) {
      return Optional.of(Succession.Reason.lasting(HAS_FAILED.explanation().clause()));
    }
    return keeper.isAtRest()
        ? Optional.empty()
        : Optional.of(Succession.Reason.passing("the protection of people is just being kept"));
  }

  /** All that takes over, where it may. */
  private record Ready(Succession.Attempt attempt, Field field) {}

  private Ready ready(Succession succession, long nowNs) {
    try {
      Field next = field.goOn(succession.after().layout());
      return new Ready(succession.attempt(interlocking, nowNs), next);
    } catch (RuntimeException e) {
      LOG.warn("New rules cannot take over; the old ones go on", e);
      return new Ready(Succession.Attempt.impossible("the new rules cannot begin: " + e), field);
    }
  }

  /**
   * New files take the place of those that run, between two things that happen. All of it is made
   * ready first: if anything stands against it, or something fails, the old ones go on as if
   * nothing had been.
   *
   * @param files what tells the new files from all others
   * @return what stands against it; nothing where they have taken over
   */
  public List<Succession.Reason> exchange(Succession succession, String files, long nowNs) {
    Optional<Succession.Reason> whyNot = whyNot();
    if (whyNot.isPresent()) {
      return List.of(whyNot.get());
    }
    Ready ready = ready(succession, nowNs);
    ready
        .attempt()
        .step()
        .ifPresent(step -> guarded(() -> goOn(succession, ready.field(), step, files, nowNs)));
    return failed ? whyNot().stream().toList() : ready.attempt().against();
  }

  /** From here on there is no way back: whatever fails now puts every signal to Stop. */
  private void goOn(Succession succession, Field next, Step step, String files, long nowNs) {
    latestNs = nowNs;
    boolean speaksOtherwise =
        !next.produced().equals(field.produced()) || !next.consumed().equals(field.consumed());
    Set<String> changed =
        succession.changes().stream().map(ChangedDevice::key).collect(Collectors.toSet());
    interlocking = succession.after();
    field = next;
    keeper.goOn(interlocking);
    listener.exchanged(files, nowNs);
    carryOut(step);
    alarms.follow(interlocking.alarms());
    watchBoards(nowNs);
    memory.describe(interlocking.layout());
    if (speaksOtherwise) {
      node.listen();
      node.announceAgain(nowNs);
    }
    field.reports(changed).forEach(node::identifyProducer);
    inquiry.goOnSoon(nowNs);
    inputs.addAll(field.found(changed));
    inputs.add(new Input.ClockReport(minuteOfDay));
    takeInputs(nowNs);
  }

  private void watchBoards(long nowNs) {
    List<Board> lost = boards.lost();
    boards.watch(interlocking.layout().boards().values(), nowNs);
    Set<String> stillLost = lostBoards();
    lost.stream()
        .filter(board -> !stillLost.contains(board.id()))
        .forEach(board -> alarms.clear(Boards.doesNotAnswer(board)));
  }

  /** Does what a person asks, or says why not. */
  public Answer tell(Command command, long nowNs) {
    if (command instanceof Command.OfClock order) {
      return tellClock(order, nowNs);
    }
    if (command instanceof Command.OfProtection order) {
      return protect(order, nowNs).getNow(BEING_KEPT);
    }
    return request(command, nowNs);
  }

  /**
   * Protects people at work, or ends that. The answer comes when it is kept for the time after a
   * restart, or refused.
   */
  public CompletableFuture<Answer> protect(Command.OfProtection command, long nowNs) {
    return keeper.take(command, nowNs);
  }

  private Answer request(Command command, long nowNs) {
    Moment moment = new Moment(protection.wallClock().get(), minuteOfDay);
    Optional<Step> step = step(new Input.Request(command, moment), nowNs);
    takeInputs(nowNs);
    return step.flatMap(Step::answer).orElse(HAS_FAILED);
  }

  private Answer tellClock(Command.OfClock order, long nowNs) {
    latestNs = nowNs;
    Answer answer = clock.tell(order, nowNs);
    takeInputs(nowNs);
    return answer;
  }

  /**
   * Why a device or a route is as it is, or what the clock shows; empty if there is nothing of that
   * name.
   */
  public Optional<Explanation> why(String name, long nowNs) {
    return interlocking
        .why(name, nowNs)
        .map(why -> failed ? HAS_FAILED.explanation() : why)
        .or(() -> whyClock(name, nowNs));
  }

  private Optional<Explanation> whyClock(String name, long nowNs) {
    return name.equals(LayoutClock.NAME) ? Optional.of(clock.why(nowNs)) : Optional.empty();
  }

  /** The names that can be asked about. */
  public List<String> names() {
    Stream<String> ofClock = clock.exists() ? Stream.of(LayoutClock.NAME) : Stream.empty();
    return Stream.concat(interlocking.names().stream(), ofClock).distinct().toList();
  }

  /** The alarms that stand now. */
  public List<String> alarms() {
    return alarms.standing();
  }

  /** The interlocking, for looking at. */
  public Interlocking interlocking() {
    return interlocking;
  }

  /** The minute of the day that the layout's clock shows, 0 to 1439; empty where none is known. */
  public OptionalInt minuteOfDay() {
    return minuteOfDay;
  }

  /** What the layout's clock was last seen to show; empty where that is not known. */
  public Optional<ClockReading> clockReading() {
    return clock.reading();
  }

  /** The boards that do not answer now, by id. */
  public Set<String> lostBoards() {
    return boards.lost().stream().map(Board::id).collect(Collectors.toSet());
  }

  /** The connections that there have been, and whether each is up. */
  public Map<String, Boolean> connections() {
    return Collections.unmodifiableMap(connections);
  }

  /** Whether the interlocking has failed, and every signal stays at Stop. */
  public boolean hasFailed() {
    return failed;
  }

  /** Whether the node may speak on the bus. */
  public boolean ready() {
    return node.ready();
  }

  /** Acts on what is due. */
  public void advance(long nowNs) {
    if (stoodStill(nowNs)) {
      trustNothing("the daemon stood still; every device is asked again", nowNs);
    }
    latestNs = nowNs;
    node.advance(nowNs);
    clock.advance(nowNs);
    alarms.advance(nowNs);
    keeper.advance(nowNs);
    boards.advance(nowNs, id -> node.lookUp(Optional.of(id), nowNs));
    inquiry.advance(nowNs);
    welcome.advance(nowNs);
    field.flash(nowNs).forEach(node::report);
    if (heartbeat.isDue(nowNs)) {
      heartbeat.beat(nowNs);
    }
    guarded(() -> carryOut(interlocking.advance(nowNs)));
    takeInputs(nowNs);
  }

  /**
   * Whether what is due has been waiting for so long that much may have happened meanwhile. What
   * was heard of it is still to be taken in: no time may run out, and no board that has put its
   * signals to Stop be told anything else, by what was known before.
   */
  private boolean stoodStill(long nowNs) {
    OptionalLong due = deadlineNs();
    return heartbeat.wasMissed(nowNs)
        || (due.isPresent() && nowNs - due.getAsLong() >= STOOD_STILL_NS);
  }

  /** When {@link #advance} is next needed. */
  public OptionalLong deadlineNs() {
    return Stream.of(
            inquiry.deadlineNs(),
            welcome.deadlineNs(),
            node.deadlineNs(),
            boards.deadlineNs(),
            clock.deadlineNs(),
            alarms.deadlineNs(),
            field.flashDueNs(),
            keeper.deadlineNs(),
            heartbeat.deadlineNs(),
            failed ? OptionalLong.empty() : interlocking.deadlineNs())
        .flatMapToLong(OptionalLong::stream)
        .min();
  }

  private void takeInputs(long nowNs) {
    for (Input input = inputs.poll(); input != null; input = inputs.poll()) {
      step(input, nowNs);
    }
  }

  private Optional<Step> step(Input input, long nowNs) {
    latestNs = nowNs;
    Step[] taken = new Step[1];
    guarded(
        () -> {
          taken[0] = interlocking.step(input, nowNs);
          carryOut(taken[0]);
        });
    return failed ? Optional.empty() : Optional.of(taken[0]);
  }

  private void carryOut(Step step) {
    listener.stepped(step);
    step.changes().forEach(listener::changed);
    step.outputs().forEach(this::carryOut);
    if (!step.changes().isEmpty()) {
      alarms.follow(interlocking.alarms());
    }
  }

  private void carryOut(Output output) {
    field.tell(output, latestNs).forEach(this::order);
    inputs.addAll(field.leave(output));
  }

  /** 49 CFR 236.5: what may have reached nobody is not assumed to have been carried out. */
  private void order(EventId event) {
    boolean said = node.report(event);
    if (!said || !reach.hears(event)) {
      inputs.addAll(field.forget(event));
    }
  }

  /**
   * A fault in the interlocking stops the railroad, and says so; it never leaves a signal clear.
   */
  private void guarded(Runnable work) {
    if (failed) {
      return;
    }
    try {
      work.run();
    } catch (RuntimeException e) {
      fail(e);
    }
  }

  /**
   * Gives up for good: every signal is put to Stop and stays there. Stop comes before words, and
   * before anything that could fail in turn.
   */
  void fail(Throwable fault) {
    if (failed) {
      return;
    }
    failed = true;
    LOG.error("The interlocking has failed; every signal is put to stop", fault);
    heartbeat.end();
    everySignalToStop();
    alarms.raise("the interlocking has failed: every signal is at stop; restart the daemon");
  }

  private void everySignalToStop() {
    interlocking.layout().signals().keySet().forEach(this::toStop);
    interlocking.layout().lineside().crossings().keySet().forEach(this::toWarn);
  }

  /** Nobody watches the approaches any more: the road is warned until somebody does. */
  private void toWarn(String crossing) {
    try {
      field.tell(new Output.Warn(crossing, true), latestNs).forEach(node::report);
    } catch (RuntimeException e) {
      LOG.error("Grade crossing {} could not be told to warn", crossing, e);
    }
  }

  /** One signal that cannot be told must not keep the others from Stop. */
  private void toStop(String signal) {
    try {
      field.tell(new Output.Show(signal, Signal.STOP), latestNs).forEach(node::report);
    } catch (RuntimeException e) {
      LOG.error("Signal {} could not be told to stop", signal, e);
    }
  }

  private void speakToAll(long nowNs) {
    putRight(nowNs);
    inquiry.askAll(nowNs);
  }

  /** Tells what cannot wait: that somebody watches, the time, and every signal. */
  private void putRight(long nowNs) {
    latestNs = nowNs;
    watchAudibly(nowNs);
    clock.speak(nowNs);
    field.signalsAgain().forEach(node::report);
    locksAgain(interlocking.layout().switches().keySet());
  }

  /**
   * Says again to electric locks what still holds. A switch, or the bolt of an opening, is never
   * moved by an order of before: what may have come in its way since, the board has yet to tell.
   */
  private void locksAgain(Collection<String> switches) {
    if (!failed) {
      interlocking.lockOrders().stream()
          .filter(order -> switches.contains(order.switchId()))
          .forEach(this::carryOut);
    }
  }

  private void watchAudibly(long nowNs) {
    if (!failed) {
      heartbeat.beat(nowNs);
    }
  }

  /** Where power comes or goes, the detectors are asked what they say now. */
  private void hearOfPower(EventId event, long nowNs) {
    List<Input> unknown = field.losePower(event);
    inputs.addAll(unknown);
    if (!unknown.isEmpty()) {
      inquiry.goOn(nowNs);
    }
  }

  /** What follows when a board goes or comes. */
  private final class Boards implements BoardWatch.Listener {

    @Override
    public void boardLost(Board board) {
      inputs.addAll(field.lose(board));
      alarms.raise(doesNotAnswer(board) + "; unknown: " + board.load());
    }

    @Override
    public void boardFound(Board board) {
      alarms.clear(doesNotAnswer(board));
      inputs.addAll(field.lose(board));
      watchAudibly(latestNs);
      field.signalsAgain(board).forEach(node::report);
      locksAgain(board.switches());
      field.reportsOf(board).forEach(node::identifyProducer);
      inquiry.goOnSoon(latestNs);
    }

    private static String doesNotAnswer(Board board) {
      return words(board) + " does not answer";
    }
  }

  private static String words(Board board) {
    return "board " + board.id() + " (" + board.name() + ")";
  }

  /** What follows when a tool has changed something, or asks for a new start. */
  private final class MemoryBox implements NodeMemory.Box {

    @Override
    public void announceAgain() {
      node.announceAgain(latestNs);
    }

    /** Only the node starts again: the interlocking goes on, with every signal as it is. */
    @Override
    public void restart(long nowNs) {
      node.start(nowNs);
    }

    @Override
    public boolean uses(EventId event) {
      return application.produced().contains(event) || application.consumed().contains(event);
    }
  }

  /** What the daemon's node is on the bus. */
  private final class Application implements LccNode.Application {

    @Override
    public List<EventId> produced() {
      return joined(joined(field.produced(), clock.produced()), heartbeat.produced());
    }

    @Override
    public List<EventId> consumed() {
      return joined(field.consumed(), notices.consumed());
    }

    @Override
    public List<EventRange> producedRanges() {
      return clock.producedRanges();
    }

    @Override
    public List<EventRange> consumedRanges() {
      return clock.consumedRanges();
    }

    @Override
    public Validity producerState(EventId event) {
      Validity ofField = field.producerState(event);
      return ofField == Validity.UNKNOWN ? clock.producerState(event, latestNs) : ofField;
    }

    @Override
    public Validity consumerState(EventId event) {
      return field.consumerState(event);
    }

    @Override
    public List<DatagramService> datagramServices() {
      return memory.services();
    }

    @Override
    public Optional<Identity> identity() {
      return Optional.of(memory.identity());
    }

    @Override
    public void ready(long nowNs) {
      noDuplicateAnyMore();
      memory.aliasTaken(node.aliasSeed());
      boards.start(nowNs);
      speakToAll(nowNs);
    }

    @Override
    public void eventReported(EventId event, long nowNs) {
      hearOfPower(event, nowNs);
      field.hear(event, Validity.VALID, origin).ifPresent(inputs::add);
    }

    @Override
    public void producerIdentified(EventId event, Validity validity, long nowNs) {
      if (validity == Validity.VALID) {
        hearOfPower(event, nowNs);
      }
      field.hearState(event, validity, origin).ifPresent(inputs::add);
    }

    @Override
    public void consumerIdentified(EventId event, Validity validity, long nowNs) {}
  }

  private static <T> List<T> joined(List<T> some, List<T> others) {
    return Stream.concat(some.stream(), others.stream()).toList();
  }

  /** What is around the clock, and around those who watch the bus for what nodes tell. */
  private final class Around implements Surroundings {

    @Override
    public void report(EventId event) {
      node.report(event);
    }

    @Override
    public void identify(EventId event) {
      node.tellProducer(event, Validity.VALID, latestNs);
    }

    @Override
    public boolean ready() {
      return node.ready();
    }

    @Override
    public Optional<NodeId> nodeOf(int alias) {
      return node.nodeOf(alias);
    }

    @Override
    public String nameOf(NodeId id) {
      return interlocking.layout().boards().values().stream()
          .filter(board -> board.node().equals(id))
          .findFirst()
          .map(SignalBox::words)
          .orElse("node " + id);
    }

    @Override
    public void happened(String what) {
      listener.changed(what);
    }

    @Override
    public void alarm(String what) {
      alarms.raise(what);
    }

    @Override
    public void alarmOver(String what) {
      alarms.clear(what);
    }

    @Override
    public void alarmFor(String what, long durationNs, long nowNs) {
      alarms.raiseUntil(what, nowNs + durationNs);
    }

    @Override
    public void minuteShown(OptionalInt minute) {
      minuteOfDay = minute;
      inputs.add(new Input.ClockReport(minute));
    }
  }
}
