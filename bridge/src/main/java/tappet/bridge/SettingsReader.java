package tappet.bridge;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.box.Tempo;
import tappet.bridge.health.LogSetup;
import tappet.bridge.journal.Limits;
import tappet.bridge.mqtt.MqttPlan;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.bridge.web.Desk;
import tappet.lcc.NodeId;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.ClockTexts;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the daemon's settings file. */
final class SettingsReader {

  private static final int VERSION = 1;
  private static final String STATE = "tappet.state";
  private static final List<String> LOGS = List.of("lines", "json");
  private static final String JOURNAL = "{keep: 30 days, at most: 200 MB}";
  private static final Pattern DAYS = Pattern.compile("([1-9]\\d{0,4}) days?");
  private static final Pattern BYTES = Pattern.compile("([1-9]\\d{0,5}) (MB|GB)");
  private static final long BYTES_PER_GB = 1_000_000_000;
  private static final String CLOCK = "{mode: run, rate: 2, time: 06:00}";
  private static final Rate CLOCK_RATE_USUAL = new Rate(8);
  private static final Time CLOCK_TIME_USUAL = new Time(6, 0);
  private static final Pattern ADDRESS =
      Pattern.compile("([A-Za-z0-9.-]+|\\[[0-9A-Fa-f:]+]):(\\d{1,5})");

  private final Path file;
  private final Path folder;
  private final Problems problems;

  private SettingsReader(Path file, Problems problems) {
    this.file = file;
    this.folder = Optional.ofNullable(file.getParent()).orElse(Path.of(""));
    this.problems = problems;
  }

  /**
   * Reads settings.
   *
   * @param file the settings file; the files it names are looked for beside it
   * @param text what stands in it
   * @return empty if anything was wrong, all of which is then in {@code problems}
   */
  static Optional<Settings> read(Path file, String text, Problems problems) {
    Optional<Settings> settings =
        Value.ofFile("the settings file", file.toString(), text, problems)
            .read(new SettingsReader(file, problems)::settings)
            .flatMap(read -> read);
    return problems.none() ? settings : Optional.empty();
  }

  private Optional<Settings> settings(Fields fields) {
    fields.required("daemon", String.valueOf(VERSION)).wholeNumber(VERSION, VERSION);
    Optional<Path> layout = path(fields.required("layout", "layout.yaml"));
    Optional<Path> rules = path(fields.required("rules", "rules.yaml"));
    Optional<NodeId> node =
        fields
            .required("node", "0A.57.00.00.00.01")
            .parsed(NodeId::parse, "a node id of six dotted hexadecimal bytes");
    InetSocketAddress hub =
        address(fields.optional("hub", "127.0.0.1:12021")).orElseGet(TcpServer::usualAddress);
    InetSocketAddress desk =
        address(fields.optional("desk", "127.0.0.1:12080")).orElseGet(Desk::usualAddress);
    Path state = path(fields.optional("state", STATE)).orElse(folder.resolve(STATE));
    Value written = fields.optional("journal", JOURNAL);
    Settings.JournalPlan journal = journal(written, state);
    ClockPlan clock = clock(fields.optional("clock", CLOCK));
    Settings.People people = people(fields);
    Settings.Extras extras = extras(fields, hub, people);
    noteTaken(journal.file(), others(layout, rules, state, extras), written);
    List<Settings.Way> ways =
        new ConnectionReader(folder, problems)
            .ways(fields.required("connections", ConnectionReader.EXAMPLE));
    if (layout.isEmpty() || rules.isEmpty() || node.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new Settings(
            layout.get(),
            rules.get(),
            node.get(),
            hub,
            desk,
            state,
            journal,
            clock,
            extras,
            people,
            ways,
            Tempo.REAL));
  }

  private Settings.JournalPlan journal(Value value, Path state) {
    Settings.JournalPlan usual = Settings.JournalPlan.beside(state);
    return value.present()
        ? value.called("the journal", JOURNAL).read(fields -> journal(fields, usual)).orElse(usual)
        : usual;
  }

  private Settings.JournalPlan journal(Fields fields, Settings.JournalPlan usual) {
    Path file = path(fields.optional("file", "tappet.journal")).orElse(usual.file());
    Duration keep =
        fields
            .optional("keep", "30 days")
            .parsed(SettingsReader::days, "a number of days such as 30 days")
            .orElse(usual.limits().keep());
    long bytesMax =
        fields
            .optional("at most", "200 MB")
            .parsed(SettingsReader::bytes, "a size such as 200 MB or 2 GB")
            .orElse(usual.limits().bytesMax());
    return new Settings.JournalPlan(file, new Limits(keep, bytesMax));
  }

  /** A file that is no journal would be put aside as a damaged one. */
  private static void noteTaken(Path journal, Stream<Optional<Path>> others, Value written) {
    Path plain = plain(journal);
    if (others.flatMap(Optional::stream).map(SettingsReader::plain).anyMatch(plain::equals)) {
      written.note(journal + " is in use already", "give the journal a file of its own");
    }
  }

  private static Path plain(Path path) {
    return path.toAbsolutePath().normalize();
  }

  /** The files of these settings besides the journal. */
  private Stream<Optional<Path>> others(
      Optional<Path> layout, Optional<Path> rules, Path state, Settings.Extras extras) {
    return Stream.of(
        Optional.of(file),
        layout,
        rules,
        Optional.of(state),
        Optional.of(ProtectionFile.beside(state)),
        Optional.of(ChartFile.beside(state)),
        Optional.of(PinFile.beside(state)),
        extras.record(),
        extras.mqtt().flatMap(MqttPlan::login).map(MqttPlan.Login::passwordFile),
        extras.mqtt().flatMap(MqttPlan::tls).flatMap(MqttPlan.Tls::trust));
  }

  private static Optional<Duration> days(String text) {
    Matcher matcher = DAYS.matcher(text);
    return matcher.matches()
        ? Optional.of(Duration.ofDays(Long.parseLong(matcher.group(1))))
        : Optional.empty();
  }

  private static Optional<Long> bytes(String text) {
    Matcher matcher = BYTES.matcher(text);
    if (!matcher.matches()) {
      return Optional.empty();
    }
    long unit = matcher.group(2).equals("GB") ? BYTES_PER_GB : Limits.BYTES_LEAST;
    return Optional.of(Long.parseLong(matcher.group(1)) * unit);
  }

  private Settings.People people(Fields file) {
    return new Settings.People(
        address(file.optional("pages", "0.0.0.0:12088")),
        file.optional("territories", "{west: [tilling]}").named().stream()
            .map(SettingsReader::territory)
            .toList());
  }

  private static Settings.Territory territory(Value.Named written) {
    return new Settings.Territory(
        written.key().value(),
        written.value().items().stream()
            .flatMap(item -> item.text().stream())
            .map(YamlNode.Text::value)
            .toList(),
        written.key().place());
  }

  private Settings.Extras extras(Fields file, InetSocketAddress hub, Settings.People people) {
    Value announced = file.optional("announce as", "Ambrose Valley Line");
    if (announced.present() && isOfThisMachineOnly(hub)) {
      announced.note(
          "a hub at %s is of no use to others".formatted(hub.getHostString()),
          "let it listen to your network, for example 'hub: 0.0.0.0:12021', or leave this out");
    }
    return new Settings.Extras(
        address(file.optional("listeners", "127.0.0.1:12022")),
        address(file.optional("draft hub", "127.0.0.1:12023")),
        announced.text().map(YamlNode.Text::value),
        path(file.optional("record", "session.log")),
        address(file.optional("metrics", "127.0.0.1:12090")),
        new MqttReader(folder, people.placesOf().keySet())
            .plan(file.optional("mqtt", MqttReader.EXAMPLE)),
        log(file.optional("log", "json")));
  }

  private static LogSetup.Form log(Value form) {
    return form.word(LOGS)
        .map(word -> LogSetup.Form.valueOf(word.value().toUpperCase(Locale.ROOT)))
        .orElse(LogSetup.Form.LINES);
  }

  private static boolean isOfThisMachineOnly(InetSocketAddress address) {
    InetAddress found = resolved(address).getAddress();
    return found != null && found.isLoopbackAddress();
  }

  private static ClockPlan clock(Value value) {
    return value
        .called("the clock", CLOCK)
        .read(SettingsReader::clock)
        .flatMap(clock -> clock)
        .orElseGet(ClockPlan.None::new);
  }

  private static Optional<ClockPlan> clock(Fields fields) {
    Optional<String> mode =
        fields.required("mode", "run").word(List.of("run", "follow")).map(YamlNode.Text::value);
    FastClock which =
        fields
            .optional("which", "fast")
            .word(FastClock.words())
            .map(word -> FastClock.of(word.value()))
            .orElse(FastClock.FAST);
    Value rate = fields.optional("rate", "2");
    Value time = fields.optional("time", "06:00");
    if (mode.equals(Optional.of("follow"))) {
      Stream.of(rate, time).filter(Value::present).forEach(SettingsReader::noteFollowed);
      return Optional.of(new ClockPlan.Follow(which));
    }
    Optional<Time> beginning = time.parsed(ClockTexts::time, "a time of day from 00:00 to 23:59");
    return mode.map(
        run -> new ClockPlan.Run(which, rate(rate), beginning.orElse(CLOCK_TIME_USUAL)));
  }

  private static void noteFollowed(Value value) {
    value.note("a clock that is followed has its time and rate from its generator", "leave it out");
  }

  private static Rate rate(Value value) {
    return value
        .text()
        .flatMap(text -> ClockTexts.rate(text.value(), value::note))
        .orElse(CLOCK_RATE_USUAL);
  }

  private Optional<Path> path(Value value) {
    return FileName.read(value, folder);
  }

  private static Optional<InetSocketAddress> address(Value value) {
    return value.parsed(SettingsReader::address, "an address such as 127.0.0.1:12021");
  }

  /**
   * Reads host and port. The name is looked up later, where a failure can be told and tried again.
   */
  static Optional<InetSocketAddress> address(String text) {
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
