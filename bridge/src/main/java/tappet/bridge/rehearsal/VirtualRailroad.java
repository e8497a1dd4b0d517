package tappet.bridge.rehearsal;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Supplier;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.Outfit;
import tappet.bridge.box.ProtectionKeeping;
import tappet.bridge.box.SignalBox;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.interlocking.Answer;
import tappet.interlocking.Interlocking;
import tappet.interlocking.KeptProtections;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;
import tappet.rules.ControlTable;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.Railway;
import tappet.simulator.TrainSpec;

/**
 * The signal box and the simulated railway, joined frame by frame. Frames need no time; everything
 * else takes what it takes. One thread at a time.
 */
public final class VirtualRailroad {

  /** The connection by which the box hears the railway. */
  public static final String CABLE = "the field's cable";

  /** The daemon's own node, in the range that every closed layout may use. */
  private static final NodeId NODE = NodeId.of("0A.57.00.00.00.01");

  /** All that boards need to answer besides the time since the start. */
  private static final Duration ANSWERING = Duration.ofSeconds(2);

  private final Deque<Runnable> underWay = new ArrayDeque<>();
  private final Supplier<SignalBox> newBox;
  private final Railway railway;
  private final Duration startTime;
  private SignalBox box;

  /** What the daemon has on disk: all that outlives a loss of its power. */
  private KeptProtections keptProtections = KeptProtections.NONE;

  private KeptState keptState = KeptState.ofNew(NODE);
  private Runnable eachMoment = () -> {};
  private Consumer<Answer> eachAnswer = answer -> {};
  private boolean plugged = true;
  private boolean running = true;
  private long nowNs;

  /** When the box has something to do; only what is done to the box changes that. */
  private long boxDueNs;

  private boolean boxDueIsKnown;

  /**
   * A railroad that is not switched on yet, with no train on its track.
   *
   * @param clock what clock the layout has
   * @param listener hears what the box does; see {@link #nowNs} for when
   * @param onlooker looks on at the network
   */
  public VirtualRailroad(
      Layout layout, ControlTable table, ClockPlan clock, BoxListener listener, Onlooker onlooker) {
    newBox =
        () ->
            box(
                new Interlocking(
                    layout, table, network -> onlooker.over(layout, network), onlooker::changed),
                listener,
                clock);
    box = newBox.get();
    railway = new Railway(new TrackPlan(layout), List.of(), this::toBox);
    startTime = table.times().start();
  }

  private SignalBox box(Interlocking interlocking, BoxListener listener, ClockPlan clock) {
    return new SignalBox(
        NODE,
        interlocking,
        this::toField,
        listener,
        new Outfit(
            clock,
            new Keeping("", keptState, state -> keptState = state),
            new ProtectionKeeping(keptProtections, this::keep, Optional::empty)));
  }

  private CompletableFuture<Optional<String>> keep(KeptProtections all) {
    keptProtections = all;
    return CompletableFuture.completedFuture(Optional.empty());
  }

  /** Puts a train on the track; empty if done, else why not. */
  public Optional<String> place(TrainSpec train) {
    return railway.place(train);
  }

  /** Switches box and boards on. */
  public void switchOn() {
    startBox();
    railway.start(nowNs);
    carry();
  }

  private void startBox() {
    boxDueIsKnown = false;
    box.start(nowNs);
    if (plugged) {
      box.connectionUp(CABLE, true, nowNs);
    }
  }

  /** Lets every device answer, and the time since the start run. */
  public void passStart() {
    passTime(startTime.plus(ANSWERING));
  }

  /** Is run after each thing that happens and each moment that passes. */
  public void atEachMoment(Runnable look) {
    eachMoment = look;
  }

  /** Hears each answer of the box. */
  public void atEachAnswer(Consumer<Answer> hear) {
    eachAnswer = hear;
  }

  /**
   * Tells the box or an engineer something that is to be done.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> tell(Command command) {
    Optional<String> whyNot =
        command instanceof Command.OfTrain ? railway.tell(command) : ofTheBox(command);
    carry();
    return whyNot;
  }

  private Optional<String> ofTheBox(Command command) {
    if (!running) {
      return Optional.of("the daemon is stopped");
    }
    boxDueIsKnown = false;
    Answer answer = box.tell(command, nowNs);
    eachAnswer.accept(answer);
    return answer.granted() ? Optional.empty() : Optional.of(answer.explanation().text());
  }

  /**
   * Lets something befall the railroad.
   *
   * @return empty if done, else why not, in an owner's words
   */
  public Optional<String> happen(Happening happening) {
    if (happening instanceof Happening.CableIs cable) {
      plug(cable.plugged());
      return Optional.empty();
    }
    if (happening instanceof Happening.DaemonIs daemon) {
      power(daemon.running());
      return Optional.empty();
    }
    Optional<String> whyNot = railway.happen(happening);
    carry();
    return whyNot;
  }

  /**
   * A daemon that loses its power says nothing any more, and knows nothing afterwards but what it
   * has on disk. Boards and trains go on without it.
   */
  private void power(boolean on) {
    if (running && !on) {
      boxDueIsKnown = false;
      box = newBox.get();
    } else if (!running && on) {
      startBox();
    }
    running = on;
    carry();
  }

  private void plug(boolean plug) {
    boxDueIsKnown = false;
    if (plug && !plugged) {
      plugged = true;
      ifRunning(() -> box.connectionUp(CABLE, true, nowNs));
    } else if (!plug && plugged) {
      plugged = false;
      ifRunning(() -> box.connectionDown(CABLE, "does not answer: device gone", true, nowNs));
    }
    carry();
  }

  private void ifRunning(Runnable done) {
    if (running) {
      done.run();
    }
  }

  /** A node that is not on the layout says something, which the box alone hears. */
  public void hear(CanFrame frame) {
    arrive(frame);
    carry();
  }

  /** Lets time pass, from one thing that is due to the next. */
  public void passTime(Duration time) {
    passUntil(time, () -> false);
  }

  /**
   * Lets time pass until something is so, or for this long; it is looked at before any time passes,
   * and at each moment at which something has happened.
   *
   * @return whether it is so
   */
  public boolean passUntil(Duration atMost, BooleanSupplier isSo) {
    long endNs = nowNs + atMost.toNanos();
    boolean so = isSo.getAsBoolean();
    while (!so && nowNs < endNs) {
      advance(Math.min(endNs, nextNs()));
      so = isSo.getAsBoolean();
    }
    return so;
  }

  private long nextNs() {
    if (!boxDueIsKnown) {
      boxDueNs = running ? box.deadlineNs().orElse(Long.MAX_VALUE) : Long.MAX_VALUE;
      boxDueIsKnown = true;
    }
    return Math.max(Math.min(boxDueNs, railway.deadlineNs().orElse(Long.MAX_VALUE)), nowNs + 1);
  }

  private void advance(long toNs) {
    nowNs = toNs;
    if (boxDueNs <= nowNs) {
      boxDueIsKnown = false;
      box.advance(nowNs);
    }
    railway.advance(nowNs);
    carry();
  }

  /** Brings what was done to box or railway from outside to the other. */
  public void carry() {
    for (Runnable next = underWay.poll(); next != null; next = underWay.poll()) {
      next.run();
    }
    eachMoment.run();
  }

  private void toField(CanFrame frame) {
    send(frame, arrived -> railway.receive(arrived, nowNs));
  }

  private void toBox(CanFrame frame) {
    send(frame, this::arrive);
  }

  private void arrive(CanFrame frame) {
    boxDueIsKnown = false;
    ifRunning(() -> box.frameArrived(CABLE, frame, nowNs));
  }

  private void send(CanFrame frame, Consumer<CanFrame> receiver) {
    if (plugged) {
      underWay.add(() -> receiver.accept(frame));
    }
  }

  /** The time since the railroad was made, in nanoseconds. */
  public long nowNs() {
    return nowNs;
  }

  /** Whether box and railway hear each other. */
  public boolean isPlugged() {
    return plugged;
  }

  /** What the box knows at this moment; the daemon has another one after a restart. */
  public Interlocking interlocking() {
    return box.interlocking();
  }

  /** The box, for looking at; as for {@link #interlocking}. */
  public SignalBox box() {
    return box;
  }

  /** The railway as it is; who does something to it calls {@link #carry} then. */
  public Railway railway() {
    return railway;
  }
}
