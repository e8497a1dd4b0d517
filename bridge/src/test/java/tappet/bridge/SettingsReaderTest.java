package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.adapter.SerialForm;
import tappet.bridge.adapter.TcpServer;
import tappet.bridge.hub.Access;
import tappet.bridge.journal.Limits;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.bridge.web.Desk;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.source.Problem;
import tappet.source.Problems;

/** Good and wrong settings files. Settings files are Tappet's own; there is no other source. */
class SettingsReaderTest {

  private static final String GOOD =
      """
      daemon: 1
      layout: layout.yaml
      rules: rules.yaml
      node: 0A.57.00.00.00.01
      hub: 127.0.0.1:12021
      desk: 127.0.0.1:12080
      connections:
        - {serial: /dev/ttyACM0, rate: 57600}
        - {tcp: layout.example:12021}
        - simulator: {trains: [{train: Extra 41, on: fallow-1, heading: east, length: 1.4 m}]}
      """;

  @Test
  void journalLiesBesideTheStateUnlessTheOwnerSaysOtherwise() {
    Problems problems = new Problems();
    Settings usual = SettingsReader.read(Path.of("c/t.yaml"), GOOD, problems).orElseThrow();
    assertEquals(
        new Settings.JournalPlan(Path.of("c/tappet.state.journal"), Limits.USUAL), usual.journal());
    String text = GOOD + "journal: {file: j.db, keep: 400 days, at most: 2 GB}\n";
    Settings other = SettingsReader.read(Path.of("c/t.yaml"), text, problems).orElseThrow();
    assertEquals(
        new Settings.JournalPlan(
            Path.of("c/j.db"), new Limits(Duration.ofDays(400), 2_000_000_000)),
        other.journal());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{file: layout.yaml} | give the journal a file of its own",
        "{file: tappet.state} | give the journal a file of its own",
        "{file: ./tappet.state} | give the journal a file of its own",
        "{file: old/../rules.yaml} | give the journal a file of its own",
        "{file: t.yaml} | give the journal a file of its own",
        "{file: tappet.state.protections} | give the journal a file of its own",
        "{file: tappet.state.chart} | give the journal a file of its own",
        "{file: tappet.state.pins} | give the journal a file of its own",
        "{keep: 0 days} | a number of days such as 30 days",
        "{keep: 2 weeks} | a number of days such as 30 days",
        "{at most: 200} | a size such as 200 MB or 2 GB"
      })
  void journalThatCannotBeKeptSoIsRefused(String journal, String expected) {
    Problems problems = new Problems();
    assertEquals(
        Optional.empty(),
        SettingsReader.read(Path.of("t.yaml"), GOOD + "journal: " + journal + "\n", problems));
    Problem problem = problems.sorted().get(0);
    assertTrue(problem.toString().contains(expected), problem.toString());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "record: session.log\njournal: {file: session.log}\n",
        "mqtt: {broker: there:1883, user: t, password file: p}\njournal: {file: p}\n",
        "mqtt: {broker: there:1883, tls: yes, trust: ca.pem}\njournal: {file: ca.pem}\n"
      })
  void journalMayNotLieInAFileThatTheSettingsNameForElse(String written) {
    Problems problems = new Problems();
    assertEquals(
        Optional.empty(), SettingsReader.read(Path.of("t.yaml"), GOOD + written, problems));
    assertTrue(problems.sorted().get(0).wrong().endsWith("is in use already"));
  }

  /** No machine has a file with the letter 0 in its name; some have none with an umlaut. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "layout: layout.yaml | layout: \"lay\\0out.yaml\" | t.yaml:2:9",
        "serial: /dev/ttyACM0, rate: 57600 | play: \"bus\\0.log\" | t.yaml:8:12",
        "connections: | record: \"bus\\0.log\"\\nconnections: | t.yaml:7:9"
      })
  void fileNameThatThisMachineCannotWriteIsAProblemAtItsPlace(
      String right, String wrong, String place) {
    Problems problems = new Problems();
    String text = GOOD.replace(right, wrong.replace("\\n", "\n"));
    assertEquals(Optional.empty(), SettingsReader.read(Path.of("t.yaml"), text, problems));
    String problem = problems.sorted().get(0).toString();
    assertTrue(problem.startsWith(place + ": this machine can have no file named "), problem);
    assertTrue(problem.contains("; write it with plain letters"), problem);
  }

  @Test
  void hubThatOnlyThisMachineReachesIsNotAnnounced() {
    Problems problems = new Problems();
    String text = GOOD + "announce as: Ambrose\n";
    assertEquals(Optional.empty(), SettingsReader.read(Path.of("t.yaml"), text, problems));
    assertEquals("a hub at 127.0.0.1 is of no use to others", problems.sorted().get(0).wrong());
  }

  @Test
  void adapterMaySpeakOtherwiseAndAConnectionMayOnlyListen() {
    String text =
        GOOD.replace("rate: 57600", "rate: 57600, speaks: slcan, listen only: yes")
            + "listeners: 127.0.0.1:12022\nrecord: session.log\n";
    Problems problems = new Problems();
    Settings settings = SettingsReader.read(Path.of("config/t.yaml"), text, problems).orElseThrow();
    assertEquals(
        new Settings.Serial("/dev/ttyACM0", 57_600, SerialForm.SLCAN, Access.OVERHEARD),
        settings.ways().get(0));
    assertEquals(Optional.of(Path.of("config/session.log")), settings.extras().record());
    assertEquals(12022, settings.extras().listeners().orElseThrow().getPort());
  }

  @Test
  void binaryMessagesAreADraftThatHasToBeAskedFor() {
    assertEquals(Optional.empty(), read(GOOD).extras().draftHub());
    Settings settings =
        read(
            GOOD.replace("{tcp: layout.example:12021}", "{tcp draft: layout.example:12023}")
                + "draft hub: 127.0.0.1:12023\n");
    assertEquals(new Settings.TcpDraft("layout.example", 12023), settings.ways().get(1));
    assertEquals(12023, settings.extras().draftHub().orElseThrow().getPort());
  }

  @Test
  void everySettingIsRead() {
    Settings settings = read(GOOD);
    assertEquals(Path.of("etc/layout.yaml"), settings.layout());
    assertEquals(Path.of("etc/rules.yaml"), settings.rules());
    assertEquals("0A.57.00.00.00.01", settings.node().toString());
    assertEquals(
        List.of(
            new Settings.Serial("/dev/ttyACM0", 57_600, SerialForm.TEXT, Access.FULL),
            new Settings.Tcp("layout.example", 12021, Access.FULL)),
        settings.ways().subList(0, 2));
    assertEquals("Extra 41", ((Settings.Simulator) settings.ways().get(2)).specs().get(0).name());
  }

  @Test
  void whatIsLeftOutIsAsUsual() {
    Settings settings = read(GOOD.replaceAll("(hub|desk): .*\n", "").replace(", rate: 57600", ""));
    assertEquals(TcpServer.usualAddress(), settings.hub());
    assertEquals(Desk.usualAddress(), settings.desk());
    assertEquals(
        new Settings.Serial("/dev/ttyACM0", 115_200, SerialForm.TEXT, Access.FULL),
        settings.ways().get(0));
  }

  @ParameterizedTest
  @MethodSource("clocks")
  void clockIsRead(String written, ClockPlan plan) {
    assertEquals(plan, read(GOOD + written).clock());
  }

  static Stream<Arguments> clocks() {
    return Stream.of(
        Arguments.of("", new ClockPlan.None()),
        Arguments.of("clock: {mode: follow}", new ClockPlan.Follow(FastClock.FAST)),
        Arguments.of(
            "clock: {mode: follow, which: alternate-2}",
            new ClockPlan.Follow(FastClock.ALTERNATE_2)),
        Arguments.of(
            "clock: {mode: run}", new ClockPlan.Run(FastClock.FAST, new Rate(8), new Time(6, 0))),
        Arguments.of(
            "clock: {mode: run, which: alternate-1, rate: 4:1, time: 18:45}",
            new ClockPlan.Run(FastClock.ALTERNATE_1, new Rate(16), new Time(18, 45))));
  }

  private static Settings read(String text) {
    Problems problems = new Problems();
    var settings = SettingsReader.read(Path.of("etc/tappet.yaml"), text, problems);
    assertEquals(List.of(), problems.sorted());
    return settings.orElseThrow();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      textBlock =
          """
      daemon: 1                | daemon: 2                | t.yaml:1:9: '2' is not a whole number from 1 to 1; write for example 'daemon: 1'
      layout: layout.yaml      | layuot: layout.yaml      | t.yaml:2:1: the settings file has no key 'layuot'; did you mean 'layout'?
      node: 0A.57.00.00.00.01  | node: 0A.57              | t.yaml:4:7: '0A.57' is not a node id of six dotted hexadecimal bytes; write for example 'node: 0A.57.00.00.00.01'
      hub: 127.0.0.1:12021     | hub: 12021               | t.yaml:5:6: '12021' is not an address such as 127.0.0.1:12021; write for example 'hub: 127.0.0.1:12021'
      desk: 127.0.0.1:12080    | desk: 127.0.0.1:70000    | t.yaml:6:7: '127.0.0.1:70000' is not an address such as 127.0.0.1:12021; write for example 'desk: 127.0.0.1:12080'
      rate: 57600              | rate: fast               | t.yaml:8:34: 'fast' is not a whole number from 300 to 4000000; write for example 'rate: 115200'
      serial: /dev/ttyACM0, r  | r                        | t.yaml:8:5: a connection is one of serial, tcp, tcp draft, simulator and play; write one of these, such as {serial: /dev/ttyACM0}
      tcp: layout.example      | rate: 300, tcp: layout.example | t.yaml:9:12: only a serial connection has a rate; leave it out
      tcp: layout.example      | speaks: slcan, tcp: layout.example | t.yaml:9:14: only a serial connection has a form to speak; leave it out
      tcp: layout.example:12021 | tcp draft: a.example:1, listen only: yes | t.yaml:9:43: a gateway must speak for the nodes behind it; leave it out
      rate: 57600              | speaks: morse            | t.yaml:8:36: 'speaks' cannot be 'morse'; it can be text or slcan
      rate: 57600              | listen only: perhaps     | t.yaml:8:41: 'listen only' cannot be 'perhaps'; it can be yes, no, true or false
      layout.example:12021     | layout.example:0         | t.yaml:9:11: 'layout.example:0' is not an address such as 192.168.1.20:12021; write for example 'tcp: 192.168.1.20:12021'
      tcp: layout.example:12021 | serial: /dev/ttyACM0    | t.yaml:9:5: the connection to /dev/ttyACM0 stands here twice; write it once
      heading: east            | heading: north           | t.yaml:10:67: 'heading' cannot be 'north'; it can be east or west
      length: 1.4 m            | length: 1.4              | t.yaml:10:81: '1.4' is not a length above 0 with its unit (m, cm, mm, ft, in); write for example 'length: 1.2 m'
      length: 1.4 m            | length: 1.4 m, speed: 0  | t.yaml:10:95: a train's speed is above 0 and at most 10 metres a second; write for example 0.4
      train: Extra 41,         | ``                       | t.yaml:10:26: the train lacks 'train'; add for example 'train: Extra 41'
      """)
  void mistakeIsToldWithItsPlaceAndASuggestion(String right, String wrong, String told) {
    assertTrue(GOOD.contains(right), right);
    Problems problems = new Problems();
    SettingsReader.read(Path.of("t.yaml"), GOOD.replace(right, wrong), problems);
    assertEquals(List.of(told), problems.sorted().stream().map(Problem::toString).toList());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      run                                | t.yaml:11:8: the clock is a single value, not a set of keys; write for example '{mode: run, rate: 2, time: 06:00}'
      {rate: 2}                          | t.yaml:11:1: the clock lacks 'mode'; add for example 'mode: run'
      {mode: rnu}                        | t.yaml:11:15: 'mode' cannot be 'rnu'; did you mean 'run'?
      {mode: lead}                       | t.yaml:11:15: 'mode' cannot be 'lead'; it can be run or follow
      {mode: run, which: real}           | t.yaml:11:27: 'which' cannot be 'real'; it can be fast, alternate-1 or alternate-2
      {mode: run, rate: fast}            | t.yaml:11:26: 'fast' is no rate of a clock; write for example 4 or 0.25
      {mode: run, rate: 0.3}             | t.yaml:11:26: a clock cannot run at rate 0.3; the nearest it can is 0.25
      {mode: run, rate: 600}             | t.yaml:11:26: a clock cannot run at rate 600; the nearest it can is 511.75
      {mode: run, rate: 0}               | t.yaml:11:26: a clock with rate 0 stands still; stop the clock instead, and start it later
      {mode: run, time: 24:00}           | t.yaml:11:26: '24:00' is not a time of day from 00:00 to 23:59; write for example 'time: 06:00'
      {mode: follow, rate: 2}            | t.yaml:11:29: a clock that is followed has its time and rate from its generator; leave it out
      {mode: follow, time: 06:00}        | t.yaml:11:29: a clock that is followed has its time and rate from its generator; leave it out
      {mode: run, speed: 2}              | t.yaml:11:20: the clock has no key 'speed'; its keys are mode, which, rate and time
      """)
  void mistakeOfTheClockIsToldWithItsPlaceAndASuggestion(String clock, String told) {
    Problems problems = new Problems();
    SettingsReader.read(Path.of("t.yaml"), GOOD + "clock: " + clock, problems);
    assertEquals(List.of(told), problems.sorted().stream().map(Problem::toString).toList());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      {prefix: tappet}                           | t.yaml:11:1: the connection to a broker lacks 'broker'; add for example 'broker: 192.168.1.5:1883'
      {broker: a}                                | t.yaml:11:16: 'a' is not an address such as 192.168.1.5:1883; write for example 'broker: 192.168.1.5:1883'
      {broker: a:1, prefix: a/b}                 | t.yaml:11:29: 'a/b' is not a name of 1 to 64 letters, digits, '-' and '_'; write for example 'prefix: tappet'
      {broker: a:1, user: me}                    | t.yaml:11:27: a user needs a password; add for example 'password file: mqtt.password'
      {broker: a:1, password file: me}           | t.yaml:11:36: a password is of no use without a user; add for example 'user: tappet'
      {broker: a:1, trust: ca.pem}               | t.yaml:11:28: without encryption nothing is vouched for; add 'tls: yes'
      {broker: a:1, commands: {role: crew}}      | t.yaml:11:31: a broker that lets in anybody lets anybody command; add 'user' and 'password file', or leave this out
      {broker: a:1, user: me, password file: p, commands: {role: owner}} | t.yaml:11:66: 'role' cannot be 'owner'; it can be crew or dispatcher
      {broker: a:1, user: me, password file: p, commands: {role: crew, territory: w}} | t.yaml:11:83: there is no territory 'w'; add it under 'territories'
      {broker: a:1, prefx: b}                    | t.yaml:11:21: the connection to a broker has no key 'prefx'; did you mean 'prefix'?
      """)
  void mistakeOfTheBrokerIsToldWithItsPlaceAndASuggestion(String mqtt, String told) {
    Problems problems = new Problems();
    SettingsReader.read(Path.of("t.yaml"), GOOD + "mqtt: " + mqtt, problems);
    assertEquals(List.of(told), problems.sorted().stream().map(Problem::toString).toList());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      {train: A, on: wset-main, heading: east, length: 1 m}  | there is no section 'wset-main'; did you mean 'west-main'?
      {train: A, on: fallow-1, heading: east, length: 14 m}  | train 'A' does not fit; no track of 14.0 m leads east through section 'fallow-1' as the switches lie
      {train: A, on: fallow-1, heading: east, length: 1 m}, {train: A, on: fallow-2, heading: east, length: 1 m} | train 'A' is on the track; lift it first
      {train: B, on: fallow-1, heading: east, length: 1 m}, {train: A, on: fallow-1, heading: east, length: 1 m} | train 'A' does not fit in section 'fallow-1'; train 'B' is in its way
      """)
  void trainThatCannotStandThereIsTold(String trains, String told) {
    String text = GOOD.replaceAll("trains: .*\n", "trains: [" + trains + "]}\n");
    Problems problems = new Problems();
    read(text).checkTrains(RailroadUnderTest.ambroseValley().layout(), problems);
    assertEquals(1, problems.sorted().size());
    String line = problems.sorted().get(0).toString();
    assertTrue(line.startsWith("etc/tappet.yaml:10:"), line);
    assertTrue(line.endsWith(": " + told), line);
  }
}
