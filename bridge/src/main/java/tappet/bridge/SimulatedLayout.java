package tappet.bridge;

import io.netty.util.concurrent.ScheduledFuture;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import tappet.bridge.adapter.LocalConnection;
import tappet.bridge.box.Tempo;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.Mishap;
import tappet.simulator.Railway;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;

/**
 * The simulated railway at the daemon's tempo, attached to the hub as a real one would be.
 * Everything happens on the hub's loop.
 */
final class SimulatedLayout {

  private final Hub hub;
  private final Layout layout;
  private final Tempo tempo;
  private final Railway railway;
  private final LocalConnection connection;
  private final List<CanFrame> told = new ArrayList<>();
  private ScheduledFuture<?> alarmClock;

  private SimulatedLayout(Hub hub, TrackPlan plan, List<TrainSpec> trains, Tempo tempo) {
    this.hub = hub;
    this.layout = plan.layout();
    this.tempo = tempo;
    this.railway = new Railway(plan, trains, told::add);
    this.connection = LocalConnection.attach(hub, "the simulator", this::hear);
  }

  static SimulatedLayout open(Hub hub, TrackPlan plan, List<TrainSpec> trains, Tempo tempo) {
    SimulatedLayout layout = new SimulatedLayout(hub, plan, trains, tempo);
    hub.onLoop(layout::start);
    return layout;
  }

  Connection connection() {
    return connection;
  }

  /** Tells a train to run or to halt; empty if done, else why not. */
  CompletableFuture<Optional<String>> tell(Command command) {
    return onLoop(() -> railway.tell(command));
  }

  /** Lets something befall the railway; empty if done, else why not. */
  CompletableFuture<Optional<String>> happen(Happening happening) {
    return onLoop(() -> railway.happen(happening));
  }

  /** Puts a train on the track; empty if done, else why not. */
  CompletableFuture<Optional<String>> place(TrainSpec train) {
    return onLoop(() -> railway.place(train));
  }

  /**
   * What is seen on the track.
   *
   * @param proceeding the signals that show another aspect than Stop
   * @param open the switches that their electric locks do not hold
   * @param mishaps what has gone wrong so far, in words
   */
  record Track(
      List<TrainState> trains, Set<String> proceeding, Set<String> open, List<String> mishaps) {}

  /** What is on the track now, and what has gone wrong there. */
  CompletableFuture<Track> look() {
    return onLoop(
        () ->
            new Track(
                railway.trains(),
                proceeding(),
                openLocks(),
                railway.mishaps().stream().map(Mishap::account).toList()));
  }

  private Set<String> proceeding() {
    return layout.signals().keySet().stream()
        .filter(signal -> !railway.aspect(signal).equals(Signal.STOP))
        .collect(Collectors.toSet());
  }

  private Set<String> openLocks() {
    return layout.switches().values().stream()
        .filter(toe -> toe.lock().isPresent() && !railway.isSecured(toe.id()))
        .map(Switch::id)
        .collect(Collectors.toSet());
  }

  private <T> CompletableFuture<T> onLoop(Supplier<T> deed) {
    CompletableFuture<T> answer = new CompletableFuture<>();
    hub.onLoop(
        () -> {
          try {
            railway.advance(tempo.nowNs());
            answer.complete(deed.get());
          } catch (RuntimeException e) {
            answer.completeExceptionally(e);
          }
          passOn();
        });
    return answer;
  }

  private void start() {
    railway.start(tempo.nowNs());
    passOn();
  }

  private void hear(CanFrame frame) {
    railway.receive(frame, tempo.nowNs());
    passOn();
  }

  private void wake() {
    railway.advance(tempo.nowNs());
    passOn();
  }

  /** What the boards have said goes to the hub in one go, and the next waking is set. */
  private void passOn() {
    if (!told.isEmpty()) {
      List<CanFrame> frames = List.copyOf(told);
      told.clear();
      connection.tellAll(frames);
    }
    if (alarmClock != null) {
      alarmClock.cancel(false);
    }
    OptionalLong deadline = railway.deadlineNs();
    if (deadline.isPresent()) {
      long waitNs = tempo.waitNs(deadline.getAsLong());
      alarmClock = hub.loop().schedule(this::wake, waitNs, TimeUnit.NANOSECONDS);
    }
  }
}
