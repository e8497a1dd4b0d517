package tappet.bridge;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.SignalBox;
import tappet.bridge.box.Tempo;
import tappet.bridge.session.Railroad;
import tappet.bridge.session.Sight;
import tappet.bridge.web.Reply;
import tappet.interlocking.Interlocking;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.TrainSpec;
import tappet.simulator.TrainState;

/**
 * The running daemon as a session sees and works it: commands go the way of everybody's, through
 * the clerk. Every method waits for its answer, and must not be called on the box's thread or the
 * hub's loop.
 */
final class LiveRailroad implements Railroad {

  private static final Logger LOG = LoggerFactory.getLogger(LiveRailroad.class);
  private static final long ANSWER_MAX_S = 5;
  private static final String WHO = "the session";

  private final BoxThread box;
  private final BoxClerk clerk;
  private final SimulatedLayout simulator;
  private final Tempo tempo;

  LiveRailroad(BoxThread box, BoxClerk clerk, SimulatedLayout simulator, Tempo tempo) {
    this.box = box;
    this.clerk = clerk;
    this.simulator = simulator;
    this.tempo = tempo;
  }

  /** What the box knows of it all. */
  private record Known(OptionalInt minuteOfDay, Set<String> locked) {}

  @Override
  public Sight look() {
    Known known = await(box.ask((signalBox, nowNs) -> known(signalBox)));
    SimulatedLayout.Track track = await(simulator.look());
    Map<String, TrainState> trains = new LinkedHashMap<>();
    track.trains().forEach(train -> trains.put(train.name(), train));
    return new Sight(
        tempo.nowNs(),
        known.minuteOfDay(),
        trains,
        known.locked(),
        track.proceeding(),
        track.open(),
        track.mishaps());
  }

  /** The routes are those that run now: other files may have taken over since the session began. */
  private static Known known(SignalBox signalBox) {
    Interlocking now = signalBox.interlocking();
    Set<String> locked = new LinkedHashSet<>(now.table().routes().keySet());
    locked.removeIf(route -> !now.routeLocked(route));
    return new Known(signalBox.minuteOfDay(), locked);
  }

  @Override
  public Optional<String> tell(Command command) {
    Reply reply = await(clerk.carryOut(command, command.words(), WHO));
    return reply.kind() == Reply.Kind.DONE ? Optional.empty() : Optional.of(reply.text());
  }

  @Override
  public Optional<String> happen(Happening happening) {
    Optional<String> whyNot = await(simulator.happen(happening));
    if (whyNot.isEmpty() && happening instanceof Happening.TrainIsLifted lifted) {
      var unused = tell(new Command.DropName(lifted.train(), lifted.place()));
    }
    return whyNot;
  }

  @Override
  public Optional<String> place(TrainSpec train) {
    Optional<String> whyNot = await(simulator.place(train));
    if (whyNot.isEmpty()) {
      name(train);
    }
    return whyNot;
  }

  /** A train that the chart has no name for is on the track all the same, and runs. */
  private void name(TrainSpec train) {
    try {
      await(clerk.begin(train.name(), train.section()));
    } catch (CompletionException e) {
      LOG.warn("Train {} runs without its name on the chart: {}", train.name(), e.toString());
    }
  }

  private static <T> T await(CompletableFuture<T> answer) {
    return answer.orTimeout(ANSWER_MAX_S, TimeUnit.SECONDS).join();
  }
}
