package tappet.bridge.health;

import io.prometheus.metrics.core.metrics.CounterWithCallback;
import io.prometheus.metrics.core.metrics.GaugeWithCallback;
import io.prometheus.metrics.core.metrics.Histogram;
import io.prometheus.metrics.expositionformats.PrometheusTextFormatWriter;
import io.prometheus.metrics.model.registry.PrometheusRegistry;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.DoubleSupplier;
import java.util.function.LongSupplier;
import java.util.function.ToDoubleFunction;
import tappet.bridge.box.BoxThread;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.HubCounters;

/**
 * What can be measured of the daemon, in the Prometheus text format 0.0.4. Their names are told in
 * {@code config/metrics.md} and stay as they are.
 */
public final class Metrics {

  /** Seconds: from what nobody notices to what an engineer passes a signal in. */
  private static final double[] REACTIONS = {
    0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1, 5
  };

  private static final double NS_PER_S = 1e9;

  /** Takes a count with the values of its labels. */
  private interface Counts {
    void tell(long count, String... labels);
  }

  private final PrometheusRegistry registry = new PrometheusRegistry();
  private final Sources sources;
  private final Vigilance vigilance;
  private final Vitals vitals;
  private final BusLoad load;

  /** Measures from now on. */
  public Metrics(Sources sources, Vigilance vigilance) {
    this.sources = sources;
    this.vigilance = vigilance;
    this.vitals = new Vitals(vigilance);
    this.load = new BusLoad(sources.ways(), vigilance.nowNs());
    measureBox();
    measureBus();
    measurePeople();
    measureMemory();
  }

  /** What the text is, as HTTP tells it. */
  static final String CONTENT_TYPE = PrometheusTextFormatWriter.CONTENT_TYPE;

  /** All of it, as it is now. */
  public String text() {
    load.look(vigilance.nowNs());
    ByteArrayOutputStream text = new ByteArrayOutputStream();
    try {
      PrometheusTextFormatWriter.create().write(text, registry.scrape());
    } catch (IOException e) {
      throw new UncheckedIOException("a text in memory cannot fail", e);
    }
    return text.toString(StandardCharsets.UTF_8);
  }

  private void measureBox() {
    Histogram reaction =
        Histogram.builder()
            .name("tappet_box_reaction_seconds")
            .help("From hearing a frame until all that follows from it has been handed to the hub.")
            .classicOnly()
            .classicUpperBounds(REACTIONS)
            .register(registry);
    BoxThread box = sources.box();
    box.measureReactions(ns -> reaction.observe(ns / NS_PER_S));
    gauge("tappet_healthy", "1 while /health answers 200.", () -> vitals.isWell() ? 1 : 0);
    gauge(
        "tappet_box_silence_seconds",
        "Time since the box last answered.",
        () -> vigilance.silence().toNanos() / NS_PER_S);
    gauge("tappet_box_queue_messages", "Messages that wait for the box.", box::waiting);
    gauge(
        "tappet_box_queue_highest_messages",
        "The most that ever waited.",
        () -> (double) box.waitedMost());
    gauge("tappet_alarms", "Alarms that stand.", this::alarms);
    counter("tappet_box_inputs_lost", "Messages that found the queue full.", box::inputsLost);
  }

  private double alarms() {
    return vigilance.heard().map(heard -> heard.pulse().alarms()).orElse(0);
  }

  private void measureBus() {
    perConnection(
        "tappet_connection_frames_per_second",
        "Frames both ways since the last scrape.",
        load::framesASecond);
    perConnection(
        "tappet_connection_load_ratio", "The same as a share of 125 kbit/s.", load::share);
    counters(
        "tappet_connection_frames",
        "Frames by connection and direction.",
        List.of("connection", "direction"),
        data -> sources.ways().forEach(way -> countFrames(way, data)));
    counters(
        "tappet_connection_skipped",
        "What came in and was no frame of LCC, by connection and kind.",
        List.of("connection", "kind"),
        data -> sources.ways().forEach(way -> countSkipped(way, data)));
    counters(
        "tappet_hub_frames",
        "Frames by what became of them in the hub.",
        List.of("fate"),
        data -> countFates(sources.hub().counters(), data));
    gauge(
        "tappet_hub_connections",
        "Connections that are up, clients among them.",
        () -> sources.hub().counters().connections());
  }

  private static void countFrames(Connection way, Counts data) {
    data.tell(way.traffic().framesIn(), way.name(), "in");
    data.tell(way.traffic().framesOut(), way.name(), "out");
  }

  private static void countSkipped(Connection way, Counts data) {
    data.tell(way.traffic().malformed(), way.name(), "malformed");
    data.tell(way.traffic().ignored(), way.name(), "ignored");
    data.tell(way.traffic().refused(), way.name(), "refused");
  }

  private static void countFates(HubCounters hub, Counts data) {
    data.tell(hub.heard(), "heard");
    data.tell(hub.told(), "told");
    data.tell(hub.forwarded(), "forwarded");
    data.tell(hub.strays(), "stray");
    data.tell(hub.refused(), "refused");
    data.tell(hub.held(), "held");
    data.tell(hub.faults(), "fault");
  }

  private void measurePeople() {
    gauge("tappet_pages_open", "Pages that are open.", () -> sources.pages().get().open());
    counter(
        "tappet_pages_cut_off",
        "Pages that did not keep up and were cut off.",
        () -> sources.pages().get().cutOff());
    counters(
        "tappet_pages_refusals",
        "What the pages refused, by reason.",
        List.of("reason"),
        data -> sources.pages().get().refused().forEach((why, times) -> data.tell(times, why)));
    counters(
        "tappet_mqtt_refusals",
        "Commands by MQTT that were refused, by reason.",
        List.of("reason"),
        data -> sources.refusedByMqtt().get().forEach((why, times) -> data.tell(times, why)));
  }

  private void measureMemory() {
    Runtime machine = Runtime.getRuntime();
    gauge(
        "tappet_memory_heap_bytes",
        "Heap in use.",
        () -> (double) (machine.totalMemory() - machine.freeMemory()));
    gauge(
        "tappet_memory_resident_bytes",
        "Memory that the process occupies; 0 where the machine does not tell.",
        () -> (double) ResidentMemory.bytes());
  }

  private void gauge(String name, String help, DoubleSupplier value) {
    GaugeWithCallback.builder()
        .name(name)
        .help(help)
        .callback(data -> data.call(value.getAsDouble()))
        .register(registry);
  }

  private void perConnection(String name, String help, ToDoubleFunction<Connection> value) {
    GaugeWithCallback.builder()
        .name(name)
        .help(help)
        .labelNames("connection")
        .callback(
            data -> sources.ways().forEach(way -> data.call(value.applyAsDouble(way), way.name())))
        .register(registry);
  }

  /** The text format adds {@code _total} to its name. */
  private void counter(String name, String help, LongSupplier value) {
    counters(name, help, List.of(), data -> data.tell(value.getAsLong()));
  }

  private void counters(String name, String help, List<String> labels, Consumer<Counts> values) {
    CounterWithCallback.builder()
        .name(name)
        .help(help)
        .labelNames(labels.toArray(String[]::new))
        .callback(data -> values.accept((count, of) -> data.call((double) count, of)))
        .register(registry);
  }
}
