package tappet.bridge.mqtt;

import com.hivemq.client.mqtt.MqttClient;
import com.hivemq.client.mqtt.MqttGlobalPublishFilter;
import com.hivemq.client.mqtt.datatypes.MqttQos;
import com.hivemq.client.mqtt.exceptions.ConnectionClosedException;
import com.hivemq.client.mqtt.exceptions.ConnectionFailedException;
import com.hivemq.client.mqtt.exceptions.MqttClientStateException;
import com.hivemq.client.mqtt.exceptions.MqttSessionExpiredException;
import com.hivemq.client.mqtt.lifecycle.MqttClientDisconnectedContext;
import com.hivemq.client.mqtt.mqtt5.Mqtt5AsyncClient;
import com.hivemq.client.mqtt.mqtt5.Mqtt5ClientBuilder;
import com.hivemq.client.mqtt.mqtt5.exceptions.Mqtt5PubAckException;
import com.hivemq.client.mqtt.mqtt5.exceptions.Mqtt5SubAckException;
import com.hivemq.client.mqtt.mqtt5.message.Mqtt5ReasonCode;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5Publish;
import com.hivemq.client.mqtt.mqtt5.message.publish.Mqtt5PublishResult;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.Mqtt5Subscription;
import com.hivemq.client.mqtt.mqtt5.message.subscribe.suback.Mqtt5SubAckReasonCode;
import io.reactivex.schedulers.Schedulers;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

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

  /** Completes when the broker has taken it; fails where it does not, or the line is lost. */
  CompletableFuture<?> say(Words words) {
    return client.publish(words.message()).thenAccept(BrokerLine::taken);
  }

  /** The client takes any answer for a good one (§3.4.2.1). */
  private static void taken(Mqtt5PublishResult answer) {
    if (answer.getError().isPresent()) {
      throw new CompletionException(answer.getError().get());
    }
  }

  /** Whether nobody has refused anything: the line was lost before there was an answer. */
  static boolean isLoss(Throwable failure) {
    Throwable cause = cause(failure);
    return cause instanceof ConnectionClosedException
        || cause instanceof ConnectionFailedException
        || cause instanceof MqttSessionExpiredException
        || cause instanceof MqttClientStateException;
  }

  /** Why the broker does not take something. */
  static String words(Throwable refusal) {
    Throwable cause = cause(refusal);
    return cause instanceof Mqtt5PubAckException answered
        ? words(answered.getMqttMessage().getReasonCode())
        : cause.toString();
  }

  /** Which of these topics the broker does not let be heard, and why. */
  static String words(Throwable refusal, List<Mqtt5Subscription> topics) {
    if (!(cause(refusal) instanceof Mqtt5SubAckException answered)) {
      return words(refusal);
    }
    List<Mqtt5SubAckReasonCode> answers = answered.getMqttMessage().getReasonCodes();
    return IntStream.range(0, Math.min(topics.size(), answers.size()))
        .filter(index -> answers.get(index).isError())
        .mapToObj(index -> topics.get(index).getTopicFilter() + ": " + words(answers.get(index)))
        .collect(Collectors.joining(", "));
  }

  private static String words(Mqtt5ReasonCode code) {
    return code.toString().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  private static Throwable cause(Throwable failure) {
    return failure instanceof CompletionException && failure.getCause() != null
        ? failure.getCause()
        : failure;
  }

  /** Fails where the broker refuses any of these, also where it lets others be heard. */
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
        ? say(last).handle((said, failure) -> last).thenCompose(said -> client.disconnect())
        : client.disconnect();
  }
}
