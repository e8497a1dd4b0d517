package tappet.bridge;

import io.netty.channel.EventLoop;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.Tempo;
import tappet.bridge.health.Sources;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Reload;
import tappet.bridge.session.SessionPlan;

/**
 * The daemon, wired up: the rail side, the box in its room, the people's side, and who looks after
 * it all. Everything is made first and opened then, so that all of it can be closed where something
 * cannot be opened.
 */
final class Daemon implements AutoCloseable {

  private final EventLoopGroup loops =
      new MultiThreadIoEventLoopGroup(2, NioIoHandler.newFactory());
  private final Tempo tempo;
  private final BoxThread box;
  private final RailSide rails;
  private final BoxRoom room;
  private final HealthWatch health;
  private final Reload reload;
  private final BoxClerk clerk;
  private final PeopleSide people;
  private Optional<LiveSession> session = Optional.empty();

  /**
   * Starts everything.
   *
   * @param charted what is run; rules that are not proven are an alarm for as long as they run
   * @throws IOException if an address to listen at is taken; nothing is left running then
   */
  static Daemon start(Settings settings, Charted charted) throws IOException {
    return start(settings, charted, false);
  }

  /**
   * The same.
   *
   * @param evenIfDisproven whether rules may take over later that were found to be unsafe
   */
  static Daemon start(Settings settings, Charted charted, boolean evenIfDisproven)
      throws IOException {
    Daemon daemon = new Daemon(settings, charted, evenIfDisproven);
    try {
      daemon.open(settings, charted.edition());
      return daemon;
    } catch (IOException e) {
      daemon.closeAll();
      throw e;
    }
  }

  private Daemon(Settings settings, Charted charted, boolean evenIfDisproven) {
    EventLoop railLoop = loops.next();
    EventLoop peopleLoop = loops.next();
    tempo = settings.tempo();
    box = new BoxThread(tempo);
    rails = new RailSide(railLoop, box, settings);
    room = new BoxRoom(box, rails.hub(), settings, charted);
    health = new HealthWatch(box, peopleLoop);
    NewFiles files = new NewFiles(settings, room, charted.edition(), this::publish);
    reload = new Reload(box, files, evenIfDisproven);
    clerk = new BoxClerk(room, rails, reload, health.vitals());
    people = new PeopleSide(peopleLoop, settings, room, clerk, health);
  }

  private void open(Settings settings, Edition first) throws IOException {
    room.start();
    rails.open(first.interlocking().layout());
    people.open(first);
    if (settings.extras().metrics().isPresent()) {
      health.tell(settings.extras().metrics().get(), numbers());
    }
    health.ready(first.interlocking().layout().name());
  }

  private Sources numbers() {
    return new Sources(box, rails.hub(), rails.ways(), people::counts, people::refusedByMqtt);
  }

  /** Tells people that other files have taken over. */
  private void publish(Edition next) {
    room.views().publish(next);
    people.goOn(next);
  }

  /** Where TCP clients may join. */
  InetSocketAddress hubAddress() {
    return rails.address();
  }

  /** Where the command line asks. */
  InetSocketAddress deskAddress() {
    return people.deskAddress();
  }

  /** Where browsers ask; empty where there are no pages. */
  Optional<InetSocketAddress> pagesAddress() {
    return people.pagesAddress();
  }

  /** Where numbers are told; empty where they are not. */
  Optional<InetSocketAddress> metricsAddress() {
    return health.address();
  }

  /** The box, for those who ask it something. */
  BoxThread box() {
    return box;
  }

  /**
   * Holds a session on the simulated layout.
   *
   * @param seed decides small delays of crews and the order of equal wishes
   * @throws IllegalStateException if there is no simulated layout
   */
  void hold(SessionPlan plan, long seed) {
    SimulatedLayout layout =
        rails.simulator().orElseThrow(() -> new IllegalStateException("no layout is simulated"));
    session =
        Optional.of(
            LiveSession.start(plan, new LiveRailroad(box, clerk, layout, tempo), seed, tempo));
  }

  /** Puts every signal to Stop, and ends when the layout has been told so. */
  @Override
  public void close() {
    health.stopping();
    session.ifPresent(LiveSession::close);
    reload.close();
    people.hearNobody();
    box.close();
    rails.letLastWordsOut();
    closeAll();
  }

  private void closeAll() {
    room.close();
    people.close();
    health.close();
    rails.close();
    var stopped = loops.shutdownGracefully(0, 2, TimeUnit.SECONDS);
    stopped.awaitUninterruptibly(TimeUnit.SECONDS.toMillis(5));
  }
}
