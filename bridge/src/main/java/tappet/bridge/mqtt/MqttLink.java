package tappet.bridge.mqtt;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.lifecycle.MqttClientDisconnectedContext;
import com.hivemq.client.mqtt.mqtt5.Mqtt5AsyncClient;
import com.hivemq.client.mqtt.mqtt5.Mqtt5ClientBuilder;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5Publish;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.Mqtt5Subscribe;
import io.reactivex.schedulers.Schedulers;
import java.io.Closeable;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxListener;
import tappet.bridge.pages.Office;
import tappet.bridge.pages.Territories;
import tappet.bridge.view.Sight;
import tappet.interlocking.Step;

/**
 * The connection to an MQTT broker (MQTT 5.0). State goes out as it changes, and whole after each
 * connecting; the broker itself tells {@code offline} if the daemon is lost (§3.1.2.5). While the
 * broker is away nothing piles up but the newest state of each thing.
 */
public final class MqttLink implements BoxListener, Closeable {

  /** What changes within this goes out together. */
  private static final long TICK_MS = 100;

  /** The broker tells that the daemon is lost after one and a half times this (§3.1.2.10). */
  private static final int KEEP_ALIVE_S = 10;

  private static final int UNDER_WAY_MAX = 50;
  private static final long DELAY_MIN_MS = 500;
  private static final long DELAY_MAX_MS = 60_000;
  private static final int DOUBLINGS_MAX = 7;
  private static final long LAST_WORDS_MS = 1_000;

  private static final String ONLINE = "online";
  private static final String OFFLINE = "offline";

  private static final Logger LOG = LoggerFactory.getLogger(MqttLink.class);

  private final MqttPlan plan;
  private final Topics topics;
  private final ScheduledExecutorService loop;
  private final Daemon daemon;
  private final Mqtt5AsyncClient client;
  private final Optional<CommandDesk> commands;
  private final Outbox outbox = new Outbox();
  private final AtomicBoolean touched = new AtomicBoolean(true);
  private final ScheduledFuture<?> ticking;
  private volatile boolean closed;
  private boolean up;
  private boolean missed;
  private boolean taking;
  private boolean wasLive;
  private int connection;
  private int underWay;
  private Optional<Sight> shown = Optional.empty();

  /**
   * What is told, and who hears of it.
   *
   * @param live whether what is seen is how things are now
   * @param trouble takes an alarm about the broker, or empty when it is over
   */
  public record Daemon(
      Office office, BooleanSupplier live, Trouble trouble, LongSupplier wallClockMs) {}

  /** Hears how the broker is; from any thread. */
  public interface Trouble {

    /** The broker is not reached; said once an outage. */
    void isMissed(String broker, String why);

    /** The broker is reached again. */
    void isBack(String broker);
  }

  /**
   * Begins to connect, and returns at once.
   *
   * @param loop where everything happens
   * @param territories what each role may say where
   * @throws IOException if password or certificate cannot be read
   */
  public static MqttLink open(
      MqttPlan plan, ScheduledExecutorService loop, Daemon daemon, Territories territories)
      throws IOException {
    MqttLink link = new MqttLink(plan, loop, daemon, territories);
    link.client.publishes(
        MqttGlobalPublishFilter.SUBSCRIBED, message -> link.onLoop(() -> link.heard(message)));
    var unused = link.client.connectWith().cleanStart(true).keepAlive(KEEP_ALIVE_S).send();
    return link;
  }

  /** Other files have taken over; from any thread. */
  public void goOn(Territories territories) {
    loop.execute(() -> commands.ifPresent(desk -> desk.goOn(territories)));
  }

  private MqttLink(
      MqttPlan plan, ScheduledExecutorService loop, Daemon daemon, Territories territories)
      throws IOException {
    this.plan = plan;
    this.topics = new Topics(plan.prefix());
    this.loop = loop;
    this.daemon = daemon;
    this.commands =
        plan.commands()
            .map(
                leave ->
                    new CommandDesk(leave, daemon.office(), territories, daemon.wallClockMs()));
    this.client = client();
    this.ticking = loop.scheduleWithFixedDelay(this::tick, TICK_MS, TICK_MS, TimeUnit.MILLISECONDS);
  }

  /**
   * One thread of its own, where others would take two for each processor. What it tells passes on
   * to the loop at once; one that has ended meanwhile must not be asked.
   */
  private Mqtt5AsyncClient client() throws IOException {
    Mqtt5ClientBuilder builder =
        MqttClient.builder()
            .useMqttVersion5()
            .identifier(plan.client())
            .serverHost(plan.host())
            .serverPort(plan.port())
            .executorConfig()
            .nettyThreads(1)
            .applicationScheduler(Schedulers.from(Runnable::run))
            .applyExecutorConfig()
            .addConnectedListener(context -> onLoop(this::connected))
            .addDisconnectedListener(this::disconnected)
            .willPublish(letter(topics.presence(), OFFLINE, true).asWill());
    if (plan.login().isPresent()) {
      String password = Files.readString(plan.login().get().passwordFile()).strip();
      builder =
          builder
              .simpleAuth()
              .username(plan.login().get().user())
              .password(password.getBytes(StandardCharsets.UTF_8))
              .applySimpleAuth();
    }
    if (plan.tls().isPresent()) {
      builder = builder.sslConfig(Tls.config(plan.tls().get()));
    }
    return builder.buildAsync();
  }

  /** Commands that were refused, by reason; from any thread. */
  public Map<String, Long> refused() {
    return commands.map(CommandDesk::refused).orElse(Map.of());
  }

  @Override
  public void stepped(Step step) {
    touched.set(true);
  }

  @Override
  public void changed(String what) {
    touched.set(true);
  }

  @Override
  public void alarmRaised(String what) {
    touched.set(true);
  }

  @Override
  public void alarmCleared(String what) {
    touched.set(true);
  }

  private void onLoop(Runnable work) {
    if (!closed) {
      loop.execute(work);
    }
  }

  private void connected() {
    up = true;
    connection++;
    underWay = 0;
    missed = false;
    LOG.info("{} is reached", plan.broker());
    daemon.trouble().isBack(plan.broker());
    subscribe();
    outbox.tellAll();
    sendOn();
  }

  /** What the broker has kept comes first; what is the daemon's own does not come back. */
  private void subscribe() {
    var wanted =
        Mqtt5Subscribe.builder()
            .addSubscription()
            .topicFilter(topics.everyThing())
            .noLocal(true)
            .applySubscription();
    if (commands.isPresent()) {
      wanted =
          wanted
              .addSubscription()
              .topicFilter(topics.tell())
              .qos(MqttQos.AT_LEAST_ONCE)
              .applySubscription();
    }
    var unused = client.subscribe(wanted.build()).whenComplete(this::subscribed);
  }

  private void subscribed(Object granted, Throwable failure) {
    if (failure != null) {
      LOG.warn("{} does not let the daemon listen: {}", plan.broker(), failure.toString());
    }
  }

  /** On a thread of the client: whether and when it tries again is decided before this returns. */
  private void disconnected(MqttClientDisconnectedContext context) {
    int doublings = Math.min(context.getReconnector().getAttempts(), DOUBLINGS_MAX);
    context
        .getReconnector()
        .reconnect(!closed)
        .resubscribeIfSessionExpired(false)
        .republishIfSessionExpired(false)
        .delay(Math.min(DELAY_MIN_MS << doublings, DELAY_MAX_MS), TimeUnit.MILLISECONDS);
    String why = String.valueOf(context.getCause().getMessage());
    onLoop(() -> lost(why));
  }

  private void lost(String why) {
    up = false;
    if (!missed) {
      missed = true;
      LOG.warn("{} is not reached, and tried again: {}", plan.broker(), why);
      daemon.trouble().isMissed(plan.broker(), "is not reached: " + why);
    }
  }

  private void tick() {
    boolean live = daemon.live().getAsBoolean();
    if (live != wasLive) {
      wasLive = live;
      shown.ifPresent(this::show);
    }
    if (!taking && touched.getAndSet(false)) {
      taking = true;
      var unused =
          daemon
              .office()
              .sight()
              .whenComplete((sight, failure) -> onLoop(() -> taken(sight, failure)));
    }
  }

  private void taken(Sight sight, Throwable failure) {
    taking = false;
    if (failure == null) {
      shown = Optional.of(sight);
      show(sight);
    } else {
      touched.set(true);
    }
  }

  /** That the daemon is there is told last: who follows it takes nothing old for new. */
  private void show(Sight sight) {
    Map<String, String> now = new LinkedHashMap<>(topics.of(sight));
    now.put(topics.presence(), wasLive ? ONLINE : OFFLINE);
    outbox.show(now);
    sendOn();
  }

  private void sendOn() {
    while (up && underWay < UNDER_WAY_MAX && !outbox.isEmpty()) {
      outbox.next().ifPresent(this::send);
    }
  }

  private void send(Outbox.Letter letter) {
    int current = connection;
    underWay++;
    var unused =
        publish(letter.topic(), letter.payload(), true)
            .whenComplete((sent, failure) -> onLoop(() -> sent(current)));
  }

  /** What was under way when a connection was lost is told anew after the next connecting. */
  private void sent(int onConnection) {
    if (onConnection == connection) {
      underWay--;
      sendOn();
    }
  }

  private CompletableFuture<?> publish(String topic, String payload, boolean retain) {
    return client.publish(letter(topic, payload, retain));
  }

  private static Mqtt5Publish letter(String topic, String payload, boolean retain) {
    return Mqtt5Publish.builder()
        .topic(topic)
        .payload(payload.getBytes(StandardCharsets.UTF_8))
        .qos(MqttQos.AT_LEAST_ONCE)
        .retain(retain)
        .build();
  }

  private void heard(Mqtt5Publish message) {
    String topic = message.getTopic().toString();
    if (topic.equals(topics.tell())) {
      commands
          .flatMap(desk -> desk.take(message.getPayloadAsBytes(), message.isRetain()))
          .ifPresent(this::answer);
    } else if (message.isRetain()) {
      outbox.found(topic);
      sendOn();
    }
  }

  private void answer(CompletableFuture<CommandDesk.Told> coming) {
    var unused =
        coming.whenComplete(
            (told, failure) -> {
              if (failure == null) {
                var unusedSent = publish(topics.told(told.id()), told.json(), false);
              } else {
                LOG.warn("A sentence that came by MQTT failed", failure);
              }
            });
  }

  /** A client that was never connected would wait for its first connection to publish. */
  private CompletableFuture<Void> goodbye() {
    return client.getState().isConnected()
        ? publish(topics.presence(), OFFLINE, true).thenCompose(said -> client.disconnect())
        : client.disconnect();
  }

  /** Says that the daemon leaves, as far as the broker hears it soon. */
  @Override
  public void close() {
    ticking.cancel(false);
    closed = true;
    try {
      goodbye().get(LAST_WORDS_MS, TimeUnit.MILLISECONDS);
    } catch (ExecutionException | TimeoutException e) {
      LOG.debug("{} was not told goodbye", plan.broker(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
