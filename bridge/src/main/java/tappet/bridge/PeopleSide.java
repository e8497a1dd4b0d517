package tappet.bridge;

import io.netty.channel.EventLoop;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.mqtt.MqttLink;
import tappet.bridge.mqtt.MqttPlan;
import tappet.bridge.pages.PageCounts;
import tappet.bridge.pages.Pages;
import tappet.bridge.pages.Role;
import tappet.bridge.pages.Territories;
import tappet.bridge.reload.Edition;
import tappet.bridge.reload.Follower;
import tappet.bridge.web.Desk;

/** The people's side: desk, pages and broker. Whoever asks there is answered by the clerk. */
final class PeopleSide implements AutoCloseable {

  private final EventLoop loop;
  private final Settings settings;
  private final BoxRoom room;
  private final BoxClerk clerk;
  private final HealthWatch health;
  private Optional<Desk> desk = Optional.empty();
  private Optional<Pages> pages = Optional.empty();
  private Optional<MqttLink> mqtt = Optional.empty();

  /**
   * @param loop where all of it is
   */
  PeopleSide(EventLoop loop, Settings settings, BoxRoom room, BoxClerk clerk, HealthWatch health) {
    this.loop = loop;
    this.settings = settings;
    this.room = room;
    this.clerk = clerk;
    this.health = health;
  }

  /**
   * Opens what the owner wants of it.
   *
   * @param edition what runs
   * @throws IOException if an address to listen at is taken; what is open by then is to be closed
   */
  void open(Edition edition) throws IOException {
    desk =
        Optional.of(
            Desk.open(loop, SettingsReader.resolved(settings.desk()), clerk, room.watchers()));
    if (settings.people().pages().isPresent()) {
      pages = Optional.of(openPages(settings.people().pages().get(), edition));
    }
    if (settings.extras().mqtt().isPresent()) {
      mqtt = Optional.of(openMqtt(settings.extras().mqtt().get(), edition));
    }
  }

  private Pages openPages(InetSocketAddress at, Edition edition) throws IOException {
    PinFile.Opened opened = PinFile.open(PinFile.beside(settings.state()));
    tellOnce(opened.told());
    return Pages.open(
        loop,
        SettingsReader.resolved(at),
        railroad(edition),
        clerk,
        health::boxAnswers,
        room.news(),
        opened.pins());
  }

  /** The only time that anybody gets to see them: the file keeps hashes. */
  private static void tellOnce(Map<Role, String> pins) {
    pins.forEach(
        (role, pin) -> System.out.printf("PIN for the %s on the pages: %s%n", role.word(), pin));
    if (!pins.isEmpty()) {
      System.out.println("Write them down: they are not told again.");
    }
  }

  private Pages.Railroad railroad(Edition edition) {
    return new Pages.Railroad(
        edition.interlocking().layout(),
        edition.interlocking().table(),
        settings.people().placesOf(),
        new Notes(edition.interlocking().layout(), settings.layout().resolveSibling(""))::of);
  }

  private MqttLink openMqtt(MqttPlan plan, Edition edition) throws IOException {
    MqttLink link =
        MqttLink.open(
            plan,
            loop,
            new MqttLink.Daemon(
                clerk,
                health::boxAnswers,
                new BoxTrouble(room.thread(), plan.broker()),
                System::currentTimeMillis),
            territories(edition));
    var unused =
        room.thread()
            .ask(
                (signalBox, nowNs) -> {
                  signalBox.tellToo(link);
                  return link;
                });
    return link;
  }

  private Territories territories(Edition edition) {
    return new Territories(
        edition.interlocking().layout(),
        edition.interlocking().table(),
        settings.people().placesOf());
  }

  /** Who of it follows when other files have taken over. */
  List<Follower> followers() {
    return List.of(
        new Follower("the pages", this::showOnPages), new Follower("MQTT", this::tellByMqtt));
  }

  private void showOnPages(Edition next) {
    pages.ifPresent(shown -> shown.goOn(railroad(next)));
  }

  private void tellByMqtt(Edition next) {
    mqtt.ifPresent(link -> link.goOn(territories(next)));
  }

  /**
   * Where the command line asks.
   *
   * @throws java.util.NoSuchElementException if it is not open
   */
  InetSocketAddress deskAddress() {
    return desk.orElseThrow().address();
  }

  /** Where browsers ask; empty where there are no pages. */
  Optional<InetSocketAddress> pagesAddress() {
    return pages.map(Pages::address);
  }

  /** What the pages have counted. */
  PageCounts counts() {
    return pages.map(Pages::counts).orElse(PageCounts.NONE);
  }

  /** How many commands came by MQTT and were refused, by reason. */
  Map<String, Long> refusedByMqtt() {
    return mqtt.map(MqttLink::refused).orElse(Map.of());
  }

  /** Lets nobody ask for anything any more; the broker is still told what becomes of the rest. */
  void hearNobody() {
    desk.ifPresent(Desk::close);
    pages.ifPresent(Pages::close);
  }

  @Override
  public void close() {
    hearNobody();
    mqtt.ifPresent(MqttLink::close);
  }
}
