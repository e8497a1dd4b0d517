package tappet.bridge.mqtt;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.lifecycle.MqttClientDisconnectedContext;
import com.hivemq.client.mqtt.mqtt5.Mqtt5AsyncClient;
import com.hivemq.client.mqtt.mqtt5.Mqtt5ClientBuilder;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5Publish;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.Mqtt5Subscription;
import io.reactivex.schedulers.Schedulers;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;

/** The line to a broker (MQTT 5.0), which is tried again and again until it is closed. */
final class BrokerLine {

  /** The broker tells that the daemon is lost after one and a half times this (§3.1.2.10). */
  private static final int KEEP_ALIVE_S = 10;

  private static final long DELAY_MIN_MS = 500;
  private static final long DELAY_MAX_MS = 60_000;
  private static final int DOUBLINGS_MAX = 7;

  private final Mqtt5AsyncClient client;
  private volatile boolean closed;

  /** Hears what becomes of the line, on a thread of the client. */
  interface Ear {

    void up();

    void down(String why);

    void heard(Mqtt5Publish message);
  }

  /**
   * What is said.
   *
   * @param retain whether the broker keeps it for those who come later
   */
  record Words(String topic, String payload, boolean retain) {

    private Mqtt5Publish message() {
      return Mqtt5Publish.builder()
          .topic(topic)
          .payload(payload.getBytes(StandardCharsets.UTF_8))
          .qos(MqttQos.AT_LEAST_ONCE)
          .retain(retain)
          .build();
    }
  }

  /**
   * A line on which nothing happens yet.
   *
   * @param will what the broker itself says if the daemon is lost (§3.1.2.5)
   * @throws IOException if password or certificate cannot be read
   */
  BrokerLine(MqttPlan plan, Words will, Ear ear) throws IOException {
    Mqtt5ClientBuilder builder =
        onOneThread(plan)
            .addConnectedListener(context -> ear.up())
            .addDisconnectedListener(context -> disconnected(context, ear))
            .willPublish(will.message().asWill());
    this.client = letIn(builder, plan).buildAsync();
    client.publishes(MqttGlobalPublishFilter.SUBSCRIBED, ear::heard);
  }

  /** One thread of its own, where others would take two for each processor. */
  private static Mqtt5ClientBuilder onOneThread(MqttPlan plan) {
    return MqttClient.builder()
        .useMqttVersion5()
        .identifier(plan.client())
        .serverHost(plan.host())
        .serverPort(plan.port())
        .executorConfig()
        .nettyThreads(1)
        .applicationScheduler(Schedulers.from(Runnable::run))
        .applyExecutorConfig();
  }

  private static Mqtt5ClientBuilder letIn(Mqtt5ClientBuilder builder, MqttPlan plan)
      throws IOException {
    Mqtt5ClientBuilder known = builder;
    if (plan.login().isPresent()) {
      String password = Files.readString(plan.login().get().passwordFile()).strip();
      known =
          known
              .simpleAuth()
              .username(plan.login().get().user())
              .password(password.getBytes(StandardCharsets.UTF_8))
              .applySimpleAuth();
    }
    return plan.tls().isPresent() ? known.sslConfig(Tls.config(plan.tls().get())) : known;
  }

  /** Begins to connect, and returns at once. */
  void connect() {
    var unused = client.connectWith().cleanStart(true).keepAlive(KEEP_ALIVE_S).send();
  }

  /** Whether and when it is tried again is decided before this returns. */
  private void disconnected(MqttClientDisconnectedContext context, Ear ear) {
    int doublings = Math.min(context.getReconnector().getAttempts(), DOUBLINGS_MAX);
    context
        .getReconnector()
        .reconnect(!closed)
        .resubscribeIfSessionExpired(false)
        .republishIfSessionExpired(false)
        .delay(Math.min(DELAY_MIN_MS << doublings, DELAY_MAX_MS), TimeUnit.MILLISECONDS);
    ear.down(String.valueOf(context.getCause().getMessage()));
  }

  CompletableFuture<?> say(Words words) {
    return client.publish(words.message());
  }

  CompletableFuture<?> listen(List<Mqtt5Subscription> topics) {
    return client.subscribeWith().addSubscriptions(topics).send();
  }

  boolean isClosed() {
    return closed;
  }

  /** A client that was never connected would wait for its first connection to say anything. */
  CompletableFuture<Void> close(Words last) {
    closed = true;
    return client.getState().isConnected()
        ? say(last).thenCompose(said -> client.disconnect())
        : client.disconnect();
  }
}
