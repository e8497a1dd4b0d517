package tappet.bridge;

import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.web.Desk;
import tappet.lcc.NodeId;
import tappet.sentence.Command;
import tappet.simulator.TrainSpec;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the daemon's settings file. */
final class SettingsReader {

  private static final int VERSION = 1;
  private static final int RATE_USUAL = 115_200;
  private static final int RATE_MIN = 300;
  private static final int RATE_MAX = 4_000_000;
  private static final double TRAIN_SPEED_USUAL = 0.4;
  private static final Pattern ADDRESS =
      Pattern.compile("([A-Za-z0-9.-]+|\\[[0-9A-Fa-f:]+]):(\\d{1,5})");

  private final Path folder;

  private SettingsReader(Path folder) {
    this.folder = folder;
  }

  /**
   * Reads settings.
   *
   * @param file the settings file; the files it names are looked for beside it
   * @param text what stands in it
   * @return empty if anything was wrong, all of which is then in {@code problems}
   */
  static Optional<Settings> read(Path file, String text, Problems problems) {
    Path folder = Optional.ofNullable(file.getParent()).orElse(Path.of(""));
    Optional<Settings> settings =
        Value.ofFile("the settings", file.toString(), text, problems)
            .read(new SettingsReader(folder)::settings)
            .flatMap(read -> read);
    return problems.none() ? settings : Optional.empty();
  }

  private Optional<Settings> settings(Fields file) {
    file.required("daemon", String.valueOf(VERSION)).wholeNumber(VERSION, VERSION);
    Optional<Path> layout = path(file.required("layout", "layout.yaml"));
    Optional<Path> rules = path(file.required("rules", "rules.yaml"));
    Optional<NodeId> node =
        file.required("node", "0A.57.00.00.00.01")
            .parsed(NodeId::parse, "a node id of six dotted hexadecimal bytes");
    InetSocketAddress hub =
        address(file.optional("hub", "127.0.0.1:12021")).orElse(TcpServer.usualAddress());
    InetSocketAddress desk =
        address(file.optional("desk", "127.0.0.1:12080")).orElse(Desk.usualAddress());
    List<Settings.Way> ways = ways(file.required("connections", "[{serial: /dev/ttyACM0}]"));
    if (layout.isEmpty() || rules.isEmpty() || node.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(new Settings(layout.get(), rules.get(), node.get(), hub, desk, ways));
  }

  private Optional<Path> path(Value value) {
    return value.text().map(text -> folder.resolve(text.value()));
  }

  private List<Settings.Way> ways(Value connections) {
    List<Settings.Way> ways = new ArrayList<>();
    for (Value item : connections.items()) {
      item.called("the connection", "{serial: /dev/ttyACM0}")
          .read(this::way)
          .flatMap(way -> way)
          .ifPresent(ways::add);
    }
    return ways;
  }

  private Optional<Settings.Way> way(Fields fields) {
    Value serial = fields.optional("serial", "/dev/ttyACM0");
    Value rate = fields.optional("rate", String.valueOf(RATE_USUAL));
    Value tcp = fields.optional("tcp", "192.168.1.20:12021");
    Value simulator = fields.optional("simulator", "{trains: []}");
    if (serial.present()) {
      int bits = rate.wholeNumber(RATE_MIN, RATE_MAX).orElse(RATE_USUAL);
      return serial.text().map(device -> new Settings.Serial(device.value(), bits));
    }
    if (tcp.present()) {
      return address(tcp)
          .map(address -> new Settings.Tcp(address.getHostString(), address.getPort()));
    }
    if (simulator.present()) {
      return simulator.read(this::trains).map(Settings.Simulator::new);
    }
    serial.note("a connection is one of serial, tcp and simulator", "write one of these");
    return Optional.empty();
  }

  private List<Settings.Train> trains(Fields fields) {
    List<Settings.Train> trains = new ArrayList<>();
    for (Value item : fields.required("trains", "[{train: Extra 41, on: west-main}]").items()) {
      item.called("the train", "{train: Extra 41, on: west-main, heading: east, length: 1.2 m}")
          .read(this::train)
          .flatMap(train -> train)
          .ifPresent(trains::add);
    }
    return trains;
  }

  private Optional<Settings.Train> train(Fields fields) {
    Optional<String> name = fields.required("train", "Extra 41").text().map(YamlNode.Text::value);
    Optional<String> on = fields.required("on", "west-main").text().map(YamlNode.Text::value);
    Optional<Command.Heading> heading =
        fields
            .required("heading", "east")
            .word(List.of("east", "west"))
            .map(SettingsReader::heading);
    Optional<Double> length = fields.required("length", "1.2 m").metres();
    double speed =
        fields.optional("speed", "0.4").number().filter(any -> any > 0).orElse(TRAIN_SPEED_USUAL);
    if (name.isEmpty() || on.isEmpty() || heading.isEmpty() || length.isEmpty()) {
      return Optional.empty();
    }
    TrainSpec spec = new TrainSpec(name.get(), on.get(), heading.get(), length.get(), speed);
    return Optional.of(new Settings.Train(spec, fields.place()));
  }

  private static Command.Heading heading(YamlNode.Text word) {
    return Command.Heading.valueOf(word.value().toUpperCase(Locale.ROOT));
  }

  private static Optional<InetSocketAddress> address(Value value) {
    return value.parsed(SettingsReader::address, "an address such as 127.0.0.1:12021");
  }

  /** The name is looked up later, where a failure can be told and tried again. */
  private static Optional<InetSocketAddress> address(String text) {
    Matcher matcher = ADDRESS.matcher(text);
    if (!matcher.matches() || Integer.parseInt(matcher.group(2)) > 0xFFFF) {
      return Optional.empty();
    }
    return Optional.of(
        InetSocketAddress.createUnresolved(matcher.group(1), Integer.parseInt(matcher.group(2))));
  }

  /** The address to listen at. */
  static InetSocketAddress resolved(InetSocketAddress address) {
    return address.isUnresolved()
        ? new InetSocketAddress(address.getHostString(), address.getPort())
        : address;
  }
}
