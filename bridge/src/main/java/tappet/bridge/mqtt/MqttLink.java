package tappet.bridge.mqtt;

import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5Publish;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.Mqtt5Subscription;
import java.io.Closeable;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
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
import tappet.bridge.record.Trouble;
import tappet.bridge.view.Sight;
import tappet.interlocking.Step;

/**
 * What an MQTT broker is told, and hears. State goes out as it changes, and whole after each
 * connecting. While the broker is away nothing piles up but the newest state of each thing.
 */
public final class MqttLink implements BoxListener, Closeable {

  /** What changes within this goes out together. */
  private static final long TICK_MS = 100;

  private static final int UNDER_WAY_MAX = 50;

  /** What the broker has refused is left alone for so long. */
  private static final long RETRY_MS = 5_000;

  private static final long LAST_WORDS_MS = 1_000;

  private static final String ONLINE = "online";
  private static final String OFFLINE = "offline";

  private static final Logger LOG = LoggerFactory.getLogger(MqttLink.class);

  private final MqttPlan plan;
  private final Topics topics;
  private final ScheduledExecutorService loop;
  private final Daemon daemon;
  private final BrokerLine line;
  private final Optional<CommandDesk> commands;
  private final Outbox outbox = new Outbox();
  private final AtomicBoolean touched = new AtomicBoolean(true);
  private final ScheduledFuture<?> ticking;
  private boolean up;
  private boolean missed;
  private boolean refusing;
  private boolean retrying;
  private boolean allTold;
  private boolean taking;
  private boolean wasLive;
  private int connection;
  private int underWay;
  private Optional<Sight> shown = Optional.empty();

  /**
   * What is told, and who hears of it.
   *
   * @param live whether what is seen is how things are now
   * @param trouble is told that displays hear nothing, or not all
   */
  public record Daemon(
      Office office, BooleanSupplier live, Trouble trouble, LongSupplier wallClockMs) {}

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
    link.line.connect();
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
    this.line = new BrokerLine(plan, presence(OFFLINE), new Ear());
    this.ticking = loop.scheduleWithFixedDelay(this::tick, TICK_MS, TICK_MS, TimeUnit.MILLISECONDS);
  }

  /** What the client tells passes on to the loop at once. */
  private final class Ear implements BrokerLine.Ear {

    @Override
    public void up() {
      onLoop(MqttLink.this::connected);
    }

    @Override
    public void down(String why) {
      onLoop(() -> lost(why));
    }

    @Override
    public void heard(Mqtt5Publish message) {
      onLoop(() -> take(message));
    }
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

  /** A loop that has ended meanwhile must not be asked. */
  private void onLoop(Runnable work) {
    if (!line.isClosed()) {
      loop.execute(work);
    }
  }

  private void connected() {
    up = true;
    connection++;
    underWay = 0;
    missed = false;
    refusing = false;
    allTold = false;
    LOG.info("{} is reached", plan.broker());
    daemon.trouble().over();
    subscribe();
    shown.map(this::topicsOf).ifPresent(outbox::show);
    outbox.tellAll();
    sendOn();
  }

  /** What the broker has kept comes first; what is the daemon's own does not come back. */
  private void subscribe() {
    List<Mqtt5Subscription> wanted = new ArrayList<>();
    wanted.add(Mqtt5Subscription.builder().topicFilter(topics.everyThing()).noLocal(true).build());
    if (commands.isPresent()) {
      wanted.add(
          Mqtt5Subscription.builder()
              .topicFilter(topics.tell())
              .qos(MqttQos.AT_LEAST_ONCE)
              .build());
    }
    var unused =
        line.listen(wanted).whenComplete((granted, failure) -> subscribed(wanted, failure));
  }

  private void subscribed(List<Mqtt5Subscription> wanted, Throwable failure) {
    if (failure != null) {
      LOG.warn(
          "{} does not let the daemon listen: {}",
          plan.broker(),
          BrokerLine.words(failure, wanted));
    }
  }

  private void lost(String why) {
    up = false;
    if (!missed) {
      missed = true;
      LOG.warn("{} is not reached, and tried again: {}", plan.broker(), why);
      daemon.trouble().arises("is not reached: " + why);
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

  private void show(Sight sight) {
    outbox.show(topicsOf(sight));
    sendOn();
  }

  /** Who follows whether the daemon is there takes nothing old for new, before all is told. */
  private Map<String, String> topicsOf(Sight sight) {
    Map<String, String> now = new LinkedHashMap<>();
    now.put(topics.presence(), wasLive && allTold ? ONLINE : OFFLINE);
    now.putAll(topics.of(sight));
    return now;
  }

  private void sendOn() {
    while (up && underWay < UNDER_WAY_MAX && !outbox.isEmpty()) {
      outbox.next().ifPresent(this::send);
    }
    if (up && shown.isPresent() && allTold != isAllTold()) {
      allTold = !allTold;
      show(shown.get());
    }
  }

  /** Once the broker has taken everything it is up to date until it refuses something. */
  private boolean isAllTold() {
    return !outbox.hasRefused() && (allTold || (underWay == 0 && outbox.isEmpty()));
  }

  private void send(Outbox.Letter letter) {
    int current = connection;
    underWay++;
    var unused =
        line.say(new BrokerLine.Words(letter.topic(), letter.payload(), true))
            .whenComplete((sent, failure) -> onLoop(() -> sent(letter.topic(), current, failure)));
  }

  /** What was under way when a connection was lost is told anew after the next connecting. */
  private void sent(String topic, int onConnection, Throwable failure) {
    if (onConnection == connection) {
      underWay--;
      if (failure == null) {
        taken(topic);
      } else {
        failed(topic, failure);
      }
      sendOn();
    }
  }

  private void taken(String topic) {
    outbox.taken(topic);
    if (refusing && !outbox.hasRefused()) {
      refusing = false;
      LOG.info("{} takes all that it is told", plan.broker());
      daemon.trouble().over();
    }
  }

  /** It may be a connection that is just being lost, which is told of in its own words. */
  private void failed(String topic, Throwable failure) {
    outbox.refused(topic);
    if (!refusing && !BrokerLine.isLoss(failure)) {
      refusing = true;
      tellRefusal(topic, BrokerLine.words(failure));
    }
    if (!retrying) {
      retrying = true;
      var unused = loop.schedule(() -> onLoop(this::retry), RETRY_MS, TimeUnit.MILLISECONDS);
    }
  }

  private void tellRefusal(String topic, String why) {
    LOG.warn("{} does not take all that it is told, such as {}: {}", plan.broker(), topic, why);
    daemon
        .trouble()
        .arises("does not take all that it is told, such as %s: %s".formatted(topic, why));
  }

  private void retry() {
    retrying = false;
    outbox.tellRefused();
    sendOn();
  }

  private BrokerLine.Words presence(String how) {
    return new BrokerLine.Words(topics.presence(), how, true);
  }

  private void take(Mqtt5Publish message) {
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
                var unusedSent =
                    line.say(new BrokerLine.Words(topics.told(told.id()), told.json(), false));
              } else {
                LOG.warn("A sentence that came by MQTT failed", failure);
              }
            });
  }

  /** Says that the daemon leaves, as far as the broker hears it soon. */
  @Override
  public void close() {
    ticking.cancel(false);
    try {
      line.close(presence(OFFLINE)).get(LAST_WORDS_MS, TimeUnit.MILLISECONDS);
    } catch (ExecutionException | TimeoutException e) {
      LOG.debug("{} was not told goodbye", plan.broker(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
