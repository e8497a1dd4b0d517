package tappet.bridge.session;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.bridge.box.BoxListener;
import tappet.bridge.rehearsal.Onlooker;
import tappet.bridge.rehearsal.VirtualRailroad;
import tappet.interlocking.Step;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.Mishap;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;

/** A session on virtual time. */
public final class VirtualSession {

  /** Trains that have begun when the time is up get so much longer. */
  private static final Duration OVERTIME = Duration.ofHours(6);

  private final SessionPlan plan;
  private final VirtualRailroad railroad;
  private final Journal journal;
  private final Onlooker onlooker;
  private final Session session;

  /**
   * Prepares a session; nothing runs yet.
   *
   * @param onlooker looks on at every step of the interlocking; what it says ends the session
   * @param journal takes what happens
   * @param seed decides small delays and the order of equal wishes
   */
  public VirtualSession(SessionPlan plan, Onlooker onlooker, Journal journal, long seed) {
    this(plan, onlooker, journal, seed, new Banker());
  }

  VirtualSession(
      SessionPlan plan, Onlooker onlooker, Journal journal, long seed, Foresight foresight) {
    this.plan = plan;
    this.journal = journal;
    this.onlooker = onlooker;
    this.railroad =
        new VirtualRailroad(plan.layout(), plan.table(), plan.clock(), new Listener(), onlooker);
    this.session = new Session(plan, new Ground(), journal, seed, foresight);
  }

  /**
   * Switches the railroad on and runs the session for a time; trains that have begun then run on to
   * their ends.
   */
  public Session run(Duration time) {
    begin();
    pass(time);
    end();
    return session;
  }

  /** Switches the railroad on. */
  void begin() {
    railroad.switchOn();
    railroad.passStart();
  }

  /** Lets time pass, as long as nothing goes wrong. */
  void pass(Duration time) {
    long endNs = railroad.nowNs() + time.toNanos();
    while (railroad.nowNs() < endNs && session.failure().isEmpty()) {
      look();
    }
  }

  /** Lets every train that has begun come to its end. */
  void end() {
    session.beginNoMore();
    long endNs = railroad.nowNs() + OVERTIME.toNanos();
    while (!session.isAtRest() && railroad.nowNs() < endNs && session.failure().isEmpty()) {
      look();
    }
  }

  private void look() {
    railroad.passTime(Duration.ofNanos(Session.LOOK_NS));
    session.look();
    if (railroad.box().hasFailed()) {
      session.fail("the interlocking has failed; the log tells how");
    }
  }

  Session session() {
    return session;
  }

  VirtualRailroad railroad() {
    return railroad;
  }

  /** The railroad as a dispatcher sees it and as people work it. */
  private final class Ground implements Railroad {

    @Override
    public Sight look() {
      Map<String, TrainState> trains = new LinkedHashMap<>();
      railroad.railway().trains().forEach(train -> trains.put(train.name(), train));
      Set<String> locked = new LinkedHashSet<>();
      for (String route : plan.table().routes().keySet()) {
        if (railroad.interlocking().routeLocked(route)) {
          locked.add(route);
        }
      }
      Set<String> proceeding = new LinkedHashSet<>();
      for (String signal : plan.layout().signals().keySet()) {
        if (!railroad.railway().aspect(signal).equals(Signal.STOP)) {
          proceeding.add(signal);
        }
      }
      Set<String> open = new LinkedHashSet<>();
      for (Switch toe : plan.layout().switches().values()) {
        if (toe.lock().isPresent() && !railroad.railway().isSecured(toe.id())) {
          open.add(toe.id());
        }
      }
      return new Sight(
          railroad.nowNs(),
          railroad.box().minuteOfDay(),
          trains,
          locked,
          proceeding,
          open,
          railroad.railway().mishaps().stream().map(Mishap::account).toList());
    }

    @Override
    public Optional<String> tell(Command command) {
      return railroad.tell(command);
    }

    @Override
    public Optional<String> happen(Happening happening) {
      return railroad.happen(happening);
    }

    @Override
    public Optional<String> place(TrainSpec train) {
      Optional<String> whyNot = railroad.place(train);
      railroad.carry();
      return whyNot;
    }
  }

  /** Writes down what the box tells, and ends the session where something is not as it must be. */
  private final class Listener implements BoxListener {

    @Override
    public void changed(String what) {
      note(what);
    }

    @Override
    public void alarmRaised(String what) {
      note("ALARM " + what);
    }

    @Override
    public void alarmCleared(String what) {
      note("alarm gone: " + what);
    }

    @Override
    public void stepped(Step step) {
      onlooker.stepped(step, railroad.nowNs()).ifPresent(session::fail);
    }

    private void note(String what) {
      journal.turnTo(railroad.nowNs());
      journal.note(what);
    }
  }
}
