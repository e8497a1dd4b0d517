package tappet.bridge;

import io.netty.util.NetUtil;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.Tempo;
import tappet.bridge.health.LogSetup;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.Standing;
import tappet.bridge.session.SessionPlan;
import tappet.source.Problems;

/** Runs the daemon until it is told to end. */
final class Service {

  /** Stands for "until it is told to end". */
  static final long WITHOUT_END = 0;

  private static final long PATIENCE_S = 10;

  private final CountDownLatch end = new CountDownLatch(1);
  private final CountDownLatch ended = new CountDownLatch(1);
  private final Path config;
  private final long seconds;
  private final boolean evenIfDisproven;
  private final Optional<Held> session;
  private final Tempo tempo;

  /**
   * A session that is to be held on the simulated layout.
   *
   * @param trains its train list
   * @param seed decides small delays of crews and the order of equal wishes
   */
  record Held(Path trains, long seed) {}

  /**
   * @param evenIfDisproven whether rules are run that were found to be unsafe
   */
  Service(Path config, long seconds, boolean evenIfDisproven) {
    this(config, seconds, evenIfDisproven, Optional.empty(), Tempo.REAL);
  }

  /**
   * @param evenIfDisproven whether rules are run that were found to be unsafe
   * @param session is held where a layout is simulated
   * @param tempo other than the real one only where all of the railroad is simulated
   */
  Service(Path config, long seconds, boolean evenIfDisproven, Optional<Held> session, Tempo tempo) {
    this.config = config;
    this.seconds = seconds;
    this.evenIfDisproven = evenIfDisproven;
    this.session = session;
    this.tempo = tempo;
  }

  /** What is run. How the rules stand is worked out beside the rest of the start. */
  private record Given(
      Settings settings,
      OwnerFiles.Railroad railroad,
      CompletableFuture<Standing> standing,
      Optional<SessionPlan> plan) {}

  /** The exit status: 0 after a clean end, 1 if the daemon could not start. */
  int run() throws IOException {
    return FileCheck.exitStatus(System.err, this::read, this::serve);
  }

  /** Not a constant, which would be there before the first file is read. */
  private static Logger log() {
    return LoggerFactory.getLogger(Service.class);
  }

  private Optional<Given> read(Problems problems) {
    OwnerFiles files = new OwnerFiles(problems);
    return files
        .settings(config)
        .flatMap(
            settings ->
                files
                    .railroad(settings.layout(), settings.rules())
                    .map(railroad -> checked(settings, railroad, problems)));
  }

  /** Settings and train list are about this layout. */
  private Given checked(Settings settings, OwnerFiles.Railroad railroad, Problems problems) {
    var standing = CompletableFuture.supplyAsync(railroad::standing);
    settings.checkTrains(railroad.layout(), problems);
    settings.checkTerritories(railroad.layout(), problems);
    Optional<SessionPlan> plan =
        session.flatMap(held -> new SessionFiles(problems).plan(railroad, held.trains()));
    Settings paced = settings.at(tempo);
    return new Given(
        plan.map(held -> paced.forSession(held.clock())).orElse(paced), railroad, standing, plan);
  }

  private int serve(Given given) {
    Settings settings = given.settings();
    LogSetup.use(settings.extras().log());
    if (tempo != Tempo.REAL && !settings.isAllSimulated()) {
      return refuse(
          ("%s: only a railroad that is all simulated can run faster than time goes by; leave out"
                  + " --speed, or every connection but the simulator")
              .formatted(config));
    }
    Charted charted = Charted.of(given.railroad(), given.standing()::join);
    nameTrains(settings, charted);
    Standing rules = charted.edition().standing();
    if (rules.answer() == KeptVerdict.Answer.DISPROVEN && !evenIfDisproven) {
      return refuse(
          ("%s: %s%n'tappet prove %s %s' tells the story. Mend the rules, or, to run them as they"
                  + " are, with an alarm on every screen, add --even-if-disproven.")
              .formatted(settings.rules(), rules.words(), settings.layout(), settings.rules()));
    }
    return serve(settings, charted, given.plan());
  }

  private static int refuse(String why) {
    System.err.println(why);
    return 1;
  }

  private int serve(Settings settings, Charted charted, Optional<SessionPlan> plan) {
    if (settings.simulates()) {
      log().info("No hardware: a simulated layout. For your own, edit {}", config);
    }
    Runtime.getRuntime().addShutdownHook(new Thread(this::endInOrder, "end"));
    try {
      return serveUntilTheEnd(settings, charted, plan);
    } finally {
      ended.countDown();
    }
  }

  /** Simulated trains are called on the chart what the owner calls them in the settings. */
  static void nameTrains(Settings settings, Charted charted) {
    for (Settings.Way way : settings.ways()) {
      if (way instanceof Settings.Simulator simulator) {
        simulator.specs().forEach(train -> charted.book().begin(train.name(), train.section()));
      }
    }
  }

  /** The program is gone as soon as this returns, so it waits until signals are at Stop. */
  private void endInOrder() {
    end.countDown();
    try {
      boolean inTime = ended.await(PATIENCE_S, TimeUnit.SECONDS);
      if (!inTime) {
        log().error("The daemon did not end within {} s", PATIENCE_S);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private int serveUntilTheEnd(Settings settings, Charted charted, Optional<SessionPlan> plan) {
    try (Daemon daemon = Daemon.start(settings, charted, evenIfDisproven)) {
      log()
          .info(
              "{}: hub at {}, desk at {}",
              charted.edition().interlocking().layout().name(),
              NetUtil.toSocketAddressString(daemon.hubAddress()),
              NetUtil.toSocketAddressString(daemon.deskAddress()));
      daemon
          .pagesAddress()
          .ifPresent(at -> log().info("pages at http://{}/", NetUtil.toSocketAddressString(at)));
      plan.filter(held -> settings.simulates())
          .ifPresent(held -> daemon.hold(held, session.orElseThrow().seed()));
      awaitEnd();
      return 0;
    } catch (IOException e) {
      System.err.println(e.getMessage());
      return 1;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return 1;
    }
  }

  private void awaitEnd() throws InterruptedException {
    boolean timeIsUp = seconds != WITHOUT_END && !end.await(seconds, TimeUnit.SECONDS);
    if (!timeIsUp) {
      end.await();
    }
  }
}
