package tappet.bridge;

import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.bridge.adapter.SerialForm;
import tappet.bridge.hub.Access;
import tappet.simulator.scenario.TrainReader;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads the ways to the layout out of the settings. */
final class ConnectionReader {

  private static final String ONE = "{serial: /dev/ttyACM0}";

  static final String EXAMPLE = "[" + ONE + "]";

  private static final List<String> FORMS = List.of("text", "slcan");
  private static final int RATE_USUAL = 115_200;
  private static final int RATE_MIN = 300;
  private static final int RATE_MAX = 4_000_000;

  private final Path folder;
  private final Problems problems;

  /**
   * @param folder where the files lie that a connection names
   */
  ConnectionReader(Path folder, Problems problems) {
    this.folder = folder;
    this.problems = problems;
  }

  /** All of them in the order of the file; what is wrong with one is among the problems. */
  List<Settings.Way> ways(Value connections) {
    Map<String, Settings.Way> ways = new LinkedHashMap<>();
    for (Value item : connections.items()) {
      item.called("the connection", ONE)
          .read(this::way)
          .flatMap(way -> way)
          .ifPresent(way -> add(way, item, ways));
    }
    return List.copyOf(ways.values());
  }

  private static void add(Settings.Way way, Value item, Map<String, Settings.Way> ways) {
    if (ways.putIfAbsent(way.words(), way) != null) {
      item.note("the connection to " + way.words() + " stands here twice", "write it once");
    }
  }

  /** What may stand in one connection. */
  private record Written(
      Value serial, Value tcp, Value draft, Value simulator, Value play, Extras extras) {

    static Written of(Fields fields) {
      return new Written(
          fields.optional("serial", "/dev/ttyACM0"),
          fields.optional("tcp", "192.168.1.20:12021"),
          fields.optional("tcp draft", "192.168.1.20:12023"),
          fields.optional("simulator", "{trains: []}"),
          fields.optional("play", "session.log"),
          Extras.of(fields));
    }

    boolean isOfOneKind() {
      return Stream.of(serial, tcp, draft, simulator, play).filter(Value::present).count() == 1;
    }
  }

  /** What goes with some kinds of connection only. */
  private record Extras(Value rate, Value speaks, Value listenOnly, Access access) {

    static Extras of(Fields fields) {
      Value listenOnly = fields.optional("listen only", "yes");
      return new Extras(
          fields.optional("rate", String.valueOf(RATE_USUAL)),
          fields.optional("speaks", "text"),
          listenOnly,
          listenOnly.yesOrNo().orElse(false) ? Access.OVERHEARD : Access.FULL);
    }

    void noteThatItIsNotSerial() {
      noteSerialOnly(rate, "rate");
      noteSerialOnly(speaks, "form to speak");
    }

    private static void noteSerialOnly(Value value, String what) {
      if (value.present()) {
        value.note("only a serial connection has a " + what, "leave it out");
      }
    }

    void noteThatItSpeaks() {
      if (listenOnly.present()) {
        listenOnly.note("a gateway must speak for the nodes behind it", "leave it out");
      }
    }
  }

  private Optional<Settings.Way> way(Fields fields) {
    Written written = Written.of(fields);
    if (!written.isOfOneKind()) {
      problems.add(
          fields.place(),
          "a connection is one of serial, tcp, tcp draft, simulator and play",
          "write one of these, such as " + ONE);
      return Optional.empty();
    }
    if (written.serial().present()) {
      return serial(written);
    }
    written.extras().noteThatItIsNotSerial();
    return notSerial(written);
  }

  private Optional<Settings.Way> notSerial(Written written) {
    if (written.tcp().present()) {
      return tcp(written);
    }
    if (written.draft().present()) {
      return draft(written);
    }
    return written.play().present()
        ? FileName.read(written.play(), folder).map(Settings.Recording::new)
        : written.simulator().read(ConnectionReader::trains).map(Settings.Simulator::new);
  }

  private static Optional<Settings.Way> serial(Written written) {
    Extras extras = written.extras();
    int bits = extras.rate().wholeNumber(RATE_MIN, RATE_MAX).orElse(RATE_USUAL);
    SerialForm form =
        extras
            .speaks()
            .word(FORMS)
            .map(word -> SerialForm.valueOf(word.value().toUpperCase(Locale.ROOT)))
            .orElse(SerialForm.TEXT);
    return written
        .serial()
        .text()
        .map(device -> new Settings.Serial(device.value(), bits, form, extras.access()));
  }

  private static Optional<Settings.Way> tcp(Written written) {
    return written
        .tcp()
        .parsed(ConnectionReader::hubElsewhere, "an address such as 192.168.1.20:12021")
        .map(at -> new Settings.Tcp(at.getHostString(), at.getPort(), written.extras().access()));
  }

  private static Optional<Settings.Way> draft(Written written) {
    written.extras().noteThatItSpeaks();
    return written
        .draft()
        .parsed(ConnectionReader::hubElsewhere, "an address such as 192.168.1.20:12023")
        .map(at -> new Settings.TcpDraft(at.getHostString(), at.getPort()));
  }

  private static Optional<InetSocketAddress> hubElsewhere(String text) {
    return SettingsReader.address(text).filter(address -> address.getPort() > 0);
  }

  private static List<TrainReader.Placed> trains(Fields fields) {
    return TrainReader.trains(fields.required("trains", "[{train: Extra 41, on: west-main}]"));
  }
}
