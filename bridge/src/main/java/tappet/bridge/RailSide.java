package tappet.bridge;

import io.netty.channel.EventLoop;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.adapter.BackOff;
import tappet.bridge.adapter.SerialAdapter;
import tappet.bridge.adapter.TcpClient;
import tappet.bridge.adapter.TcpForm;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.adapter.discovery.HubDirectory;
import tappet.bridge.adapter.discovery.HubService;
import tappet.bridge.box.BoxThread;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.record.FramePlayer;
import tappet.bridge.record.Pace;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;

/** The rail side: the hub, the ways to the layout, and who else may join the bus. */
final class RailSide implements AutoCloseable {

  /** Long enough for a hundred frames at 115,200 bits a second. */
  private static final long LAST_WORDS_MS = 300;

  private static final Logger LOG = LoggerFactory.getLogger(RailSide.class);

  private final Settings settings;
  private final Hub hub;
  private final List<Connection> ways = new ArrayList<>();
  private final List<Closeable> others = new ArrayList<>();
  private Optional<TcpServer> server = Optional.empty();
  private Optional<SimulatedLayout> simulator = Optional.empty();

  /**
   * @param loop where the hub is
   * @param box hears all that comes in
   */
  RailSide(EventLoop loop, BoxThread box, Settings settings) {
    this.settings = settings;
    this.hub = new Hub(loop, box);
  }

  /**
   * Opens the hub to TCP clients, and every way to the layout.
   *
   * @param layout is simulated where the settings say so
   * @throws IOException if an address to listen at is taken; what is open by then is to be closed
   */
  void open(Layout layout) throws IOException {
    TcpServer opened = TcpServer.open(hub, SettingsReader.resolved(settings.hub()));
    server = Optional.of(opened);
    others.add(opened);
    openToListeners();
    openToDrafts();
    announce(opened.address().getPort());
    for (Settings.Way way : settings.ways()) {
      open(way, layout);
    }
  }

  private void openToListeners() throws IOException {
    if (settings.extras().listeners().isPresent()) {
      InetSocketAddress at = SettingsReader.resolved(settings.extras().listeners().get());
      others.add(TcpServer.open(hub, at, Access.VISITOR));
    }
  }

  private void openToDrafts() throws IOException {
    if (settings.extras().draftHub().isPresent()) {
      InetSocketAddress at = SettingsReader.resolved(settings.extras().draftHub().get());
      others.add(TcpServer.open(hub, at, draft(), Access.FULL));
    }
  }

  private void announce(int port) throws IOException {
    if (settings.extras().announcedAs().isPresent()) {
      HubDirectory directory = HubDirectory.open();
      others.add(directory);
      directory.announce(settings.extras().announcedAs().get(), HubService.TEXT_FRAMES, port);
    }
  }

  private void open(Settings.Way way, Layout layout) throws IOException {
    if (way instanceof Settings.Serial serial) {
      ways.add(open(serial));
    } else if (way instanceof Settings.Tcp tcp) {
      ways.add(TcpClient.open(hub, tcp.host(), tcp.port(), BackOff.USUAL, tcp.access()));
    } else if (way instanceof Settings.TcpDraft tcp) {
      ways.add(TcpClient.open(hub, tcp.host(), tcp.port(), BackOff.USUAL, draft(), Access.FULL));
    } else if (way instanceof Settings.Recording recording) {
      others.add(FramePlayer.start(hub, recording.file(), Pace.realTime(1)));
    } else if (way instanceof Settings.Simulator simulated) {
      simulate(simulated, layout);
    }
  }

  private Connection open(Settings.Serial serial) {
    return SerialAdapter.open(
        hub, serial.device(), serial.rate(), serial.form(), BackOff.USUAL, serial.access());
  }

  private void simulate(Settings.Simulator simulated, Layout layout) {
    SimulatedLayout opened =
        SimulatedLayout.open(hub, new TrackPlan(layout), simulated.specs(), settings.tempo());
    ways.add(opened.connection());
    simulator = Optional.of(opened);
  }

  private TcpForm draft() {
    return TcpForm.draft(settings.node());
  }

  Hub hub() {
    return hub;
  }

  /** The connections that the owner's settings ask for. */
  List<Connection> ways() {
    return List.copyOf(ways);
  }

  /** The layout, where it is simulated. */
  Optional<SimulatedLayout> simulator() {
    return simulator;
  }

  /**
   * Where TCP clients may join.
   *
   * @throws java.util.NoSuchElementException if it is not open
   */
  InetSocketAddress address() {
    return server.orElseThrow().address();
  }

  /** What a serial adapter has not sent when it is closed is lost. */
  void letLastWordsOut() {
    try {
      TimeUnit.MILLISECONDS.sleep(LAST_WORDS_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Whoever joined the bus goes before the ways to the layout. */
  @Override
  public void close() {
    others.forEach(RailSide::closeQuietly);
    ways.forEach(Connection::close);
  }

  private static void closeQuietly(Closeable other) {
    try {
      other.close();
    } catch (IOException e) {
      LOG.warn("{} could not be closed: {}", other, e.toString());
    }
  }
}
