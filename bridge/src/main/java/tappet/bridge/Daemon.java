package tappet.bridge;

import io.netty.channel.EventLoop;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
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
import tappet.bridge.box.ProtectionKeeping;
import tappet.bridge.box.ProtectionText;
import tappet.bridge.box.SignalBox;
import tappet.bridge.box.Tempo;
import tappet.bridge.health.HealthPort;
import tappet.bridge.health.Metrics;
import tappet.bridge.health.ServiceManager;
import tappet.bridge.health.Sources;
import tappet.bridge.health.Vigilance;
import tappet.bridge.health.Vitals;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.journal.OwnerFile;
import tappet.bridge.mqtt.MqttLink;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.bridge.pages.NewsStand;
import tappet.bridge.pages.Office;
import tappet.bridge.pages.PageCounts;
import tappet.bridge.pages.Pages;
import tappet.bridge.pages.Pins;
import tappet.bridge.pages.Role;
import tappet.bridge.pages.Territories;
import tappet.bridge.proof.KeptVerdict;
import tappet.bridge.proof.RailroadFiles;
import tappet.bridge.proof.Standing;
import tappet.bridge.record.FramePlayer;
import tappet.bridge.record.Item;
import tappet.bridge.record.Pace;
import tappet.bridge.record.Scribe;
import tappet.bridge.record.SessionRecorder;
import tappet.bridge.record.Trouble;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Reload;
import tappet.bridge.session.SessionPlan;
import tappet.bridge.web.Desk;
import tappet.bridge.web.Watchers;
import tappet.interlocking.Interlocking;
import tappet.interlocking.KeptProtections;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;

/** The daemon, wired up: ways to the layout, hub, box and desk. */
final class Daemon implements AutoCloseable {

  /** Long enough for a hundred frames at 115,200 bits a second. */
  private static final long LAST_WORDS_MS = 300;

  /** What the bus is called in recordings. */
  private static final String BUS_NAME = "can0";

  private static final Logger LOG = LoggerFactory.getLogger(Daemon.class);

  private final EventLoopGroup loops =
      new MultiThreadIoEventLoopGroup(2, NioIoHandler.newFactory());
  private final EventLoop busLoop = loops.next();
  private final EventLoop deskLoop = loops.next();
  private final Tempo tempo;
  private final BoxThread box;
  private final Hub hub;
  private final Watchers watchers = new Watchers();
  private final List<Connection> ways = new ArrayList<>();
  private final List<Closeable> extras = new ArrayList<>();
  private final StateFile state;
  private final ProtectionFile protections;
  private final ChartFile chart;
  private final List<Scribe<?>> scribes = new ArrayList<>();
  private final Journal journal;
  private final JournalSearch search;
  private final TcpServer server;
  private final Desk desk;
  private final Optional<Pages> pages;
  private final Optional<HealthPort> metrics;
  private final Optional<MqttLink> mqtt;
  private final BoxClerk clerk;
  private final Reload reload;
  private final Optional<ServiceManager> serviceManager;
  private Standing standing;
  private final Optional<SimulatedLayout> simulator;
  private Optional<LiveSession> session = Optional.empty();

  /**
   * Starts everything.
   *
   * @param charted what is run; rules that are not proven are an alarm for as long as they run
   * @throws IOException if an address to listen at is taken; nothing is left running then
   */
  static Daemon start(Settings settings, Charted charted) throws IOException {
    return new Daemon(settings, charted, false);
  }

  /**
   * The same.
   *
   * @param evenIfDisproven whether rules may take over later that were found to be unsafe
   */
  static Daemon start(Settings settings, Charted charted, boolean evenIfDisproven)
      throws IOException {
    return new Daemon(settings, charted, evenIfDisproven);
  }

  private Daemon(Settings settings, Charted charted, boolean evenIfDisproven) throws IOException {
    Interlocking interlocking = charted.edition().interlocking();
    tempo = settings.tempo();
    box = new BoxThread(tempo);
    hub = new Hub(busLoop, box);
    standing = charted.edition().standing();
    Views views = Views.of(charted);
    NewsStand news = new NewsStand(charted.book(), System::currentTimeMillis);
    state = new StateFile(settings.state());
    protections = new ProtectionFile(ProtectionFile.beside(settings.state()), box::wake);
    Trouble ofChart = new BoxTrouble(box, "the chart");
    chart = new ChartFile(ChartFile.beside(settings.state()), ofChart::arises);
    charted.book().restore(chart.read(), chart);
    serviceManager = ServiceManager.open(System.getenv(ServiceManager.SOCKET));
    KeptState keptState = state.read(settings.node());
    KeptProtections keptProtections = protections.read(state.exists());
    SignalBox signalBox =
        new SignalBox(
            settings.node(),
            interlocking,
            hub::send,
            watchers,
            settings.clock(),
            new Keeping(Tappet.version(), keptState, state),
            new ProtectionKeeping(keptProtections, protections, Daemon::wallClock));
    if (standing.answer() != KeptVerdict.Answer.PROVEN) {
      signalBox.rulesInDoubt(standing.words());
    }
    Item.Started begin = begin(settings, interlocking.layout(), keptState, keptProtections);
    journal = journal(settings, charted.edition().files(), begin, signalBox);
    search = new JournalSearch(settings.journal().file());
    scribes.add(journal);
    try {
      recorder(settings, begin).ifPresent(scribes::add);
      scribes.forEach(signalBox::tellToo);
      signalBox.tellToo(news);
      signalBox.tellToo(views.bus());
      box.start(signalBox);
      state.noteThatItRuns(keptState);
      Vigilance vigilance =
          Vigilance.over(box, deskLoop, () -> serviceManager.ifPresent(ServiceManager::alive));
      server = TcpServer.open(hub, SettingsReader.resolved(settings.hub()));
      openExtras(settings);
      simulator = openWays(settings, new TrackPlan(interlocking.layout()));
      NewFiles files =
          new NewFiles(
              settings,
              views,
              interlocking.layout(),
              edition -> takenOver(edition, signalBox),
              edition -> publish(edition, settings, views));
      reload = new Reload(box, files, evenIfDisproven);
      clerk =
          new BoxClerk(
              box,
              simulator,
              views,
              new Ledgers(scribes, journal, search),
              chart,
              reload,
              new Vitals(vigilance));
      desk = Desk.open(deskLoop, SettingsReader.resolved(settings.desk()), clerk, watchers);
      pages = openPages(settings, interlocking, clerk, news);
      mqtt = openMqtt(settings, interlocking, vigilance);
      metrics = openMetrics(settings, vigilance);
      serviceManager.ifPresent(manager -> manager.ready(interlocking.layout().name()));
    } catch (IOException e) {
      closeAll();
      throw e;
    }
  }

  /** In the box: other rules stand otherwise. */
  private void takenOver(Edition edition, SignalBox signalBox) {
    signalBox.rulesNoLongerInDoubt(standing.words());
    standing = edition.standing();
    if (standing.answer() != KeptVerdict.Answer.PROVEN) {
      signalBox.rulesInDoubt(standing.words());
    }
  }

  private void publish(Edition edition, Settings settings, Views views) {
    views.publish(edition);
    pages.ifPresent(shown -> shown.goOn(railroad(settings, edition.interlocking())));
    mqtt.ifPresent(link -> link.goOn(territories(settings, edition.interlocking())));
  }

  /** Date and time where the railroad stands, for people to read. */
  static Optional<LocalDateTime> wallClock() {
    return Optional.of(LocalDateTime.now(ZoneId.systemDefault()).truncatedTo(ChronoUnit.SECONDS));
  }

  /** Where TCP clients may join. */
  InetSocketAddress hubAddress() {
    return server.address();
  }

  /** Where the command line asks. */
  InetSocketAddress deskAddress() {
    return desk.address();
  }

  /** Where browsers ask; empty where there are no pages. */
  Optional<InetSocketAddress> pagesAddress() {
    return pages.map(Pages::address);
  }

  /** Where numbers are told; empty where they are not. */
  Optional<InetSocketAddress> metricsAddress() {
    return metrics.map(HealthPort::address);
  }

  /**
   * Holds a session on the simulated layout.
   *
   * @param seed decides small delays of crews and the order of equal wishes
   * @throws IllegalStateException if there is no simulated layout
   */
  void hold(SessionPlan plan, long seed) {
    SimulatedLayout layout =
        simulator.orElseThrow(() -> new IllegalStateException("no layout is simulated"));
    session =
        Optional.of(
            LiveSession.start(
                plan, new LiveRailroad(box, clerk, layout, plan.table(), tempo), seed, tempo));
  }

  /** The box, for those who ask it something. */
  BoxThread box() {
    return box;
  }

  /** Puts every signal to Stop, and ends when the layout has been told so. */
  @Override
  public void close() {
    serviceManager.ifPresent(ServiceManager::stopping);
    session.ifPresent(LiveSession::close);
    reload.close();
    desk.close();
    pages.ifPresent(Pages::close);
    box.close();
    letLastWordsOut();
    server.close();
    closeAll();
  }

  /** What a serial adapter has not sent when it is closed is lost. */
  private void letLastWordsOut() {
    try {
      TimeUnit.MILLISECONDS.sleep(LAST_WORDS_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void closeAll() {
    box.close();
    state.close();
    protections.close();
    chart.close();
    scribes.forEach(Scribe::close);
    search.close();
    extras.forEach(Daemon::closeQuietly);
    serviceManager.ifPresent(ServiceManager::close);
    ways.forEach(Connection::close);
    var stopped = loops.shutdownGracefully(0, 2, TimeUnit.SECONDS);
    stopped.awaitUninterruptibly(TimeUnit.SECONDS.toMillis(5));
  }

  private static void closeQuietly(Closeable extra) {
    try {
      extra.close();
    } catch (IOException e) {
      LOG.warn("{} could not be closed: {}", extra, e.toString());
    }
  }

  private static Item.Started begin(
      Settings settings, Layout layout, KeptState kept, KeptProtections standing) {
    return new Item.Started(
        Tappet.version(),
        layout.name(),
        settings.node(),
        kept.aliasSeed(),
        settings.clock(),
        ProtectionText.of(standing));
  }

  private Journal journal(
      Settings settings, RailroadFiles files, Item.Started begin, SignalBox signalBox) {
    Path file = settings.journal().file();
    return Journal.open(
        file,
        new Journal.Beginning(begin, ownerFile(files.layout()), ownerFile(files.rules())),
        settings.journal().limits(),
        Journal.Clocks.usual(signalBox::minuteOfDay),
        new BoxTrouble(box, "the journal " + file));
  }

  private static OwnerFile ownerFile(RailroadFiles.Text file) {
    return new OwnerFile(file.name(), file.text());
  }

  private Optional<SessionRecorder> recorder(Settings settings, Item.Started begin)
      throws IOException {
    if (settings.extras().record().isEmpty()) {
      return Optional.empty();
    }
    Path file = settings.extras().record().get();
    return Optional.of(
        SessionRecorder.open(file, BUS_NAME, begin, new BoxTrouble(box, "recording " + file)));
  }

  /** What is opened here is closed before the connections. */
  private void openExtras(Settings settings) throws IOException {
    Settings.Extras wanted = settings.extras();
    if (wanted.listeners().isPresent()) {
      InetSocketAddress at = SettingsReader.resolved(wanted.listeners().get());
      extras.add(TcpServer.open(hub, at, Access.LISTEN_ONLY));
    }
    if (wanted.draftHub().isPresent()) {
      InetSocketAddress at = SettingsReader.resolved(wanted.draftHub().get());
      extras.add(TcpServer.open(hub, at, TcpForm.draft(settings.node()), Access.FULL));
    }
    if (wanted.announcedAs().isPresent()) {
      HubDirectory directory = HubDirectory.open();
      extras.add(directory);
      directory.announce(
          wanted.announcedAs().get(), HubService.TEXT_FRAMES, server.address().getPort());
    }
  }

  private Optional<Pages> openPages(
      Settings settings, Interlocking interlocking, Office office, NewsStand news)
      throws IOException {
    if (settings.people().pages().isEmpty()) {
      return Optional.empty();
    }
    Pins.Opened opened = Pins.open(Pins.beside(settings.state()));
    tellOnce(opened.told());
    return Optional.of(
        Pages.open(
            deskLoop,
            SettingsReader.resolved(settings.people().pages().get()),
            railroad(settings, interlocking),
            office,
            news,
            opened.pins()));
  }

  private static Pages.Railroad railroad(Settings settings, Interlocking interlocking) {
    return new Pages.Railroad(
        interlocking.layout(),
        interlocking.table(),
        settings.people().placesOf(),
        new Notes(settings.layout().resolveSibling("")).of(interlocking.layout()));
  }

  private Optional<HealthPort> openMetrics(Settings settings, Vigilance vigilance)
      throws IOException {
    if (settings.extras().metrics().isEmpty()) {
      return Optional.empty();
    }
    Sources sources =
        new Sources(
            box,
            hub,
            List.copyOf(ways),
            () -> pages.map(Pages::counts).orElse(PageCounts.NONE),
            () -> mqtt.map(MqttLink::refused).orElse(Map.of()));
    HealthPort port =
        HealthPort.open(
            deskLoop,
            SettingsReader.resolved(settings.extras().metrics().get()),
            new Metrics(sources, vigilance),
            new Vitals(vigilance));
    extras.add(port);
    return Optional.of(port);
  }

  private static Territories territories(Settings settings, Interlocking interlocking) {
    return new Territories(
        interlocking.layout(), interlocking.table(), settings.people().placesOf());
  }

  private Optional<MqttLink> openMqtt(
      Settings settings, Interlocking interlocking, Vigilance vigilance) throws IOException {
    if (settings.extras().mqtt().isEmpty()) {
      return Optional.empty();
    }
    MqttLink link =
        MqttLink.open(
            settings.extras().mqtt().get(),
            deskLoop,
            new MqttLink.Daemon(
                clerk,
                () -> !vigilance.isStalled(),
                new BrokerAlarm(box),
                System::currentTimeMillis),
            territories(settings, interlocking));
    extras.add(link);
    var unused =
        box.ask(
            (signalBox, nowNs) -> {
              signalBox.tellToo(link);
              return link;
            });
    return Optional.of(link);
  }

  /** The only time that anybody gets to see them: the file keeps hashes. */
  private static void tellOnce(Map<Role, String> pins) {
    pins.forEach(
        (role, pin) -> System.out.printf("PIN for the %s on the pages: %s%n", role.word(), pin));
    if (!pins.isEmpty()) {
      System.out.println("Write them down: they are not told again.");
    }
  }

  private Connection open(Settings.Serial serial) {
    return SerialAdapter.open(
        hub, serial.device(), serial.rate(), serial.form(), BackOff.USUAL, serial.access());
  }

  private Optional<SimulatedLayout> openWays(Settings settings, TrackPlan plan) throws IOException {
    Optional<SimulatedLayout> simulator = Optional.empty();
    for (Settings.Way way : settings.ways()) {
      if (way instanceof Settings.Serial serial) {
        ways.add(open(serial));
      } else if (way instanceof Settings.Tcp tcp) {
        ways.add(TcpClient.open(hub, tcp.host(), tcp.port(), BackOff.USUAL, tcp.access()));
      } else if (way instanceof Settings.TcpDraft tcp) {
        TcpForm form = TcpForm.draft(settings.node());
        ways.add(TcpClient.open(hub, tcp.host(), tcp.port(), BackOff.USUAL, form, Access.FULL));
      } else if (way instanceof Settings.Recording recording) {
        extras.add(FramePlayer.start(hub, recording.file(), Pace.realTime(1)));
      } else if (way instanceof Settings.Simulator simulated) {
        SimulatedLayout layout = SimulatedLayout.open(hub, plan, simulated.specs(), tempo);
        ways.add(layout.connection());
        simulator = Optional.of(layout);
      }
    }
    return simulator;
  }
}
