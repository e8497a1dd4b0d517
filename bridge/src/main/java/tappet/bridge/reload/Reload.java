package tappet.bridge.reload;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxThread;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.reload.Progress.Phase;
import tappet.interlocking.Succession;

/**
 * Reads new files, has them proven, compares them with what runs and lets them take over: at once,
 * or as soon as nothing stands against it, or not. One at a time. Anyone may call its methods; none
 * of them blocks.
 *
 * <p>Files with mistakes never take over, disproven rules only where the daemon was started to run
 * such, and rules without a proof only where a person wishes it so, with an alarm for as long as
 * they run. What a proof has found counts whether or not it could keep its verdict.
 */
public final class Reload implements AutoCloseable {

  /** How often it is tried again while something stands against it. */
  static final Duration AGAIN = Duration.ofMillis(500);

  private static final Logger LOG = LoggerFactory.getLogger(Reload.class);

  /** The reload is over, for a reason that has been told. */
  private static final class Over extends Exception {
    private static final long serialVersionUID = 1;
    private final Phase phase;

    Over(Phase phase) {
      super(phase.word(), null, false, false);
      this.phase = phase;
    }
  }

  private final BoxThread box;
  private final OwnersDesk files;
  private final boolean evenIfDisproven;
  private final ExecutorService worker =
      Executors.newSingleThreadExecutor(
          work -> {
            Thread thread = new Thread(work, "reload");
            thread.setDaemon(true);
            return thread;
          });

  private volatile Progress progress = Progress.NONE;
  private CountDownLatch cancelled = new CountDownLatch(1);
  private Optional<ProofProcess> proof = Optional.empty();

  /**
   * Of the worker: what has been told of the reload under way. The box's thread adds to it while
   * the worker waits.
   */
  private final List<String> report = new ArrayList<>();

  /** Whether the new files of the reload under way run: whatever fails then fails behind them. */
  private volatile boolean haveTakenOver;

  /**
   * @param evenIfDisproven whether rules take over that were found to be unsafe
   */
  public Reload(BoxThread box, OwnersDesk files, boolean evenIfDisproven) {
    this.box = box;
    this.files = files;
    this.evenIfDisproven = evenIfDisproven;
  }

  /** How the latest reload stands. */
  public Progress progress() {
    return progress;
  }

  /**
   * Begins.
   *
   * @return false, and nothing is begun, while another one is under way
   */
  public synchronized boolean begin(Wish wish) {
    if (progress.phase().isBusy()) {
      return false;
    }
    progress = new Progress(Phase.READING, List.of(), List.of());
    cancelled = new CountDownLatch(1);
    worker.execute(() -> run(wish));
    return true;
  }

  /**
   * Calls it off.
   *
   * @return false where none is under way
   */
  public synchronized boolean cancel() {
    cancelled.countDown();
    proof.ifPresent(ProofProcess::close);
    return progress.phase().isBusy();
  }

  @Override
  public void close() {
    boolean unused = cancel();
    worker.shutdownNow();
  }

  private void run(Wish wish) {
    report.clear();
    haveTakenOver = false;
    try {
      Edition edition = judged(wish);
      Succession succession = compared(edition);
      if (wish.isTry()) {
        look(succession);
      } else {
        takeOver(succession, edition, wish.patience());
      }
    } catch (Over over) {
      end(over.phase);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      end(Phase.CANCELLED);
    } catch (IOException | ExecutionException | RuntimeException | OutOfMemoryError e) {
      LOG.warn(
          "A reload failed; {}", haveTakenOver ? "the new files run" : "the old files run on", e);
      report.add("it failed: " + e);
      end(Phase.REFUSED);
    }
  }

  /** Ends early, as long as the old files run. */
  private void end(Phase phase) {
    go(haveTakenOver ? Phase.DONE : phase, List.of());
  }

  private Edition judged(Wish wish) throws Over, IOException, InterruptedException {
    Edition edition = read();
    if (edition.standing().answer() == KeptVerdict.Answer.NOT_PROVEN && !wish.unproven()) {
      edition = judgedByProof(edition);
    }
    report.add(edition.standing().words());
    Optional<String> whyNot = whyNot(edition.standing().answer(), wish);
    if (whyNot.isPresent()) {
      throw refused(whyNot.get());
    }
    return edition;
  }

  /** Why rules of which this is known may not take over. */
  private Optional<String> whyNot(KeptVerdict.Answer answer, Wish wish) {
    return switch (answer) {
      case PROVEN -> Optional.empty();
      case NOT_PROVEN ->
          wish.unproven()
              ? Optional.empty()
              : Optional.of("rules without a proof take over only by 'tappet reload --unproven'");
      case DISPROVEN ->
          evenIfDisproven
              ? Optional.empty()
              : Optional.of(
                  "disproven rules do not take over; mend them, or see 'tappet run --help'");
    };
  }

  private Over refused(String why) {
    report.add(why);
    return new Over(Phase.REFUSED);
  }

  private Edition read() throws Over {
    OwnersDesk.Reading reading = files.read();
    report.addAll(reading.problems());
    if (reading.edition().isEmpty()) {
      throw new Over(Phase.REFUSED);
    }
    return reading.edition().get();
  }

  /**
   * Whoever edits the files while they are proven has them read and proven again by asking again.
   */
  private Edition judgedByProof(Edition read) throws Over, IOException, InterruptedException {
    go(Phase.PROVING, List.of());
    ProofProcess.Result result = prove(read);
    report.addAll(result.lines());
    stopIfCancelled();
    Optional<KeptVerdict.Answer> found = result.answer();
    if (found.isEmpty()) {
      throw refused("the proof was broken off (exit status %d)".formatted(result.status()));
    }
    Edition edition = read();
    if (!edition.digest().equals(read.digest())) {
      throw refused("the files were edited while they were proven; ask again");
    }
    return edition.found(found.get());
  }

  private ProofProcess.Result prove(Edition edition)
      throws Over, IOException, InterruptedException {
    try (ProofProcess begun = begun(edition)) {
      return begun.await();
    } finally {
      forgetProof();
    }
  }

  private synchronized ProofProcess begun(Edition edition) throws Over, IOException {
    stopIfCancelled();
    ProofProcess begun = files.prove(edition);
    proof = Optional.of(begun);
    return begun;
  }

  private synchronized void forgetProof() {
    proof = Optional.empty();
  }

  private Succession compared(Edition edition)
      throws Over, ExecutionException, InterruptedException {
    go(Phase.COMPARING, List.of());
    Succession succession =
        new Succession(
            box.ask((signalBox, nowNs) -> signalBox.interlocking()).get(), edition.interlocking());
    succession.changes().forEach(change -> report.add(change.toString()));
    if (succession.changes().isEmpty()) {
      report.add("nothing has changed");
    }
    stopIfCancelled();
    return succession;
  }

  private void look(Succession succession) throws ExecutionException, InterruptedException {
    List<Succession.Reason> against =
        box.ask((signalBox, nowNs) -> signalBox.standsAgainst(succession, nowNs)).get();
    go(against.isEmpty() ? Phase.POSSIBLE : phaseFor(against), lines(against));
  }

  private void takeOver(Succession succession, Edition edition, Duration patience)
      throws Over, ExecutionException, InterruptedException {
    long endNs = System.nanoTime() + patience.toNanos();
    List<Succession.Reason> against = tried(succession, edition);
    while (!against.isEmpty()
        && phaseFor(against) == Phase.IN_USE
        && System.nanoTime() - endNs < 0) {
      go(Phase.WAITING, lines(against));
      boolean calledOff = cancelled.await(AGAIN.toMillis(), TimeUnit.MILLISECONDS);
      if (calledOff) {
        throw new Over(Phase.CANCELLED);
      }
      against = tried(succession, edition);
    }
    if (against.isEmpty()) {
      files.besideTheBox().forEach(follower -> follow(follower, edition));
      LOG.info("New files have taken over: {}", edition.standing().words());
    }
    go(against.isEmpty() ? Phase.DONE : phaseFor(against), lines(against));
  }

  private List<Succession.Reason> tried(Succession succession, Edition edition)
      throws ExecutionException, InterruptedException {
    String digest = edition.digest();
    return box.ask(
            (signalBox, nowNs) -> {
              List<Succession.Reason> against = signalBox.exchange(succession, digest, nowNs);
              if (against.isEmpty()) {
                haveTakenOver = true;
                files.inTheBox().forEach(follower -> follow(follower, edition));
              }
              return against;
            })
        .get();
  }

  /** One who cannot follow keeps no other from it, and the new files run all the same. */
  private void follow(Follower follower, Edition edition) {
    try {
      follower.goOn().accept(edition);
    } catch (RuntimeException | Error e) {
      LOG.error("The new files run, and {} did not follow", follower.name(), e);
      report.add(
          "%s did not follow (%s); restart the daemon when no train runs"
              .formatted(follower.name(), e));
    }
  }

  private static Phase phaseFor(List<Succession.Reason> against) {
    return against.stream().allMatch(Succession.Reason::passes) ? Phase.IN_USE : Phase.REFUSED;
  }

  private static List<String> lines(List<Succession.Reason> against) {
    return against.stream().map(Succession.Reason::toString).toList();
  }

  private void stopIfCancelled() throws Over {
    if (cancelled.getCount() == 0) {
      throw new Over(Phase.CANCELLED);
    }
  }

  private synchronized void go(Phase phase, List<String> against) {
    progress = new Progress(phase, report, against);
  }
}
