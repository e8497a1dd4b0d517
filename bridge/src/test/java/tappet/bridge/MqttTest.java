package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.adapter.LogOf;
import tappet.bridge.health.LogSetup;
import tappet.bridge.mqtt.MqttPlan;
import tappet.bridge.pages.Role;
import tappet.sentence.Command.Heading;

/** The daemon at a real Mosquitto, as MQTT 5.0 says; the clauses stand with the tests. */
class MqttTest {

  private static final String ANYBODY = "allow_anonymous true";

  private static final String NOBODY_HEARS_SENTENCES =
      """
      {"defaultACLAccess": {"publishClientSend": true, "publishClientReceive": true,
          "subscribe": true, "unsubscribe": true},
        "clients": [],
        "roles": [{"rolename": "deaf", "acls":
          [{"acltype": "subscribeLiteral", "topic": "ambrose/tell", "allow": false}]}],
        "groups": [{"groupname": "all", "roles": [{"rolename": "deaf"}]}],
        "anonymousGroup": "all"}
      """;

  @TempDir Path folder;

  private static Settings.Extras extras(
      int port,
      Optional<MqttPlan.Login> login,
      Optional<MqttPlan.Tls> tls,
      Optional<MqttPlan.Commands> commands) {
    MqttPlan plan = new MqttPlan("127.0.0.1", port, "ambrose", "tappet", login, tls, commands);
    return new Settings.Extras(
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.of(plan),
        LogSetup.Form.LINES);
  }

  private static Settings.Extras extras(int port) {
    return extras(port, Optional.empty(), Optional.empty(), Optional.empty());
  }

  private QuickDaemon daemon(Settings.Extras extras) throws Exception {
    return QuickDaemon.start(
        folder, extras, QuickDaemon.train("Extra 41", "west-main", Heading.EAST));
  }

  private static List<String> alarms(QuickDaemon daemon) {
    return daemon.daemon().box().ask((box, nowNs) -> box.alarms()).join().stream()
        .filter(alarm -> alarm.startsWith("MQTT broker"))
        .toList();
  }

  private static void awaitAlarms(QuickDaemon daemon, int count) {
    Awaitility.await()
        .atMost(JavaProcess.PATIENCE)
        .untilAsserted(() -> assertEquals(count, alarms(daemon).size()));
  }

  /** Retained messages: §3.3.1.3; the will: §3.1.2.5, seen after a connection ends unannounced. */
  @Test
  void stateIsKeptByTheBrokerAndTheWillTellsThatTheDaemonIsLost() throws Exception {
    int relayed = Ports.free();
    try (Broker broker = new Broker(folder, ANYBODY)) {
      broker.publish("ambrose/signal/ghost", "{\"shows\":\"clear\"}", true);
      Process relay =
          Broker.quietly(
              "socat",
              "TCP-LISTEN:" + relayed + ",bind=127.0.0.1,reuseaddr",
              "TCP:127.0.0.1:" + broker.port);
      try (QuickDaemon daemon = daemon(extras(relayed));
          Broker.Listener all = broker.listen("ambrose/#")) {
        all.await("it is there", line -> line.matches("ambrose/online [01] online"));
        try (Broker.Listener late = broker.listen("ambrose/#")) {
          late.await("ambrose/online 1 online");
          late.await(
              "the train", line -> line.matches("ambrose/section/west-main [01] .\"is\":\"occ.*"));
          late.await(
              "a signal", line -> line.matches("ambrose/signal/t2e [01] .\"shows\":\"stop\".*"));
          late.await("the clock", line -> line.matches("ambrose/clock/clock [01] .\"shows\":.*"));
          assertFalse(late.lines().anyMatch(line -> line.contains("ghost")), "what is no more");
        }
        assertEquals(List.of(), alarms(daemon));
        all.clear();
        relay.destroyForcibly();
        all.await("ambrose/online 0 offline");
      } finally {
        relay.destroyForcibly();
      }
    }
  }

  /** The reader of a restarted broker gets all anew; meanwhile one alarm stands. */
  @Test
  void brokerThatIsAwayIsOneAlarmAndEverythingIsToldAnewWhenItIsBack() throws Exception {
    try (Broker broker = new Broker(folder, ANYBODY);
        QuickDaemon daemon = daemon(extras(broker.port))) {
      try (Broker.Listener first = broker.listen("ambrose/#")) {
        first.await("it is there", line -> line.matches("ambrose/online [01] online"));
      }
      assertEquals(List.of(), alarms(daemon));
      broker.kill();
      awaitAlarms(daemon, 1);
      assertTrue(alarms(daemon).get(0).contains("is not reached"), alarms(daemon)::toString);
      broker.start();
      awaitAlarms(daemon, 0);
      try (Broker.Listener anew = broker.listen("ambrose/#")) {
        anew.await("it is there", line -> line.matches("ambrose/online [01] online"));
        anew.await("a signal", line -> line.matches("ambrose/signal/t2e [01] .*"));
      }
    }
  }

  /** A broker answers each message by whether it takes it (§3.4.2.1). */
  @Test
  void whatTheBrokerRefusesIsTriedAgainAndMeanwhileNobodyTakesTheOldForNew() throws Exception {
    Path access = folder.resolve("access");
    Files.writeString(access, "topic read #\ntopic write ambrose/online\n");
    try (Broker broker = new Broker(folder, ANYBODY + "\nacl_file " + access);
        QuickDaemon daemon = daemon(extras(broker.port));
        Broker.Listener all = broker.listen("ambrose/#")) {
      awaitAlarms(daemon, 1);
      String alarm = alarms(daemon).get(0);
      assertTrue(alarm.contains(" does not take all that it is told, such as ambrose/"), alarm);
      assertTrue(alarm.endsWith(": not authorized"), alarm);
      all.await("it is not there", line -> line.matches("ambrose/online [01] offline"));
      assertFalse(all.lines().anyMatch(line -> line.endsWith(" online")), "not all is told");
      Files.writeString(access, "topic readwrite #\n");
      broker.readAccessAnew();
      all.await("ambrose/online 0 online");
      assertTrue(all.lines().anyMatch(line -> line.startsWith("ambrose/signal/t2e 0 ")));
      awaitAlarms(daemon, 0);
    }
  }

  /** Of the topics that somebody wants to hear a broker may refuse one (§3.9.3). */
  @Test
  void topicThatTheBrokerDoesNotLetBeHeardIsNamedInTheLog() throws Exception {
    String settings =
        ANYBODY
            + "\nplugin "
            + accessPlugin()
            + "\nplugin_opt_config_file "
            + Files.writeString(folder.resolve("access.json"), NOBODY_HEARS_SENTENCES);
    try (Broker broker = new Broker(folder, settings);
        LogOf log = LogOf.connection("MQTT broker 127.0.0.1:" + broker.port);
        QuickDaemon daemon =
            daemon(
                extras(
                    broker.port,
                    Optional.empty(),
                    Optional.empty(),
                    Optional.of(new MqttPlan.Commands(Role.CREW, Optional.empty()))))) {
      Awaitility.await()
          .atMost(JavaProcess.PATIENCE)
          .until(
              () ->
                  log.lines().stream()
                      .anyMatch(
                          line ->
                              line.endsWith(
                                  " does not let the daemon listen: ambrose/tell: not"
                                      + " authorized")));
      assertEquals(List.of(), alarms(daemon));
    }
  }

  /** It comes with Mosquitto, in the folder of the machine's kind. */
  private static Path accessPlugin() throws IOException {
    try (Stream<Path> found =
        Files.find(
            Path.of("/usr/lib"), 2, (file, is) -> file.endsWith("mosquitto_dynamic_security.so"))) {
      return found.findFirst().orElseThrow();
    }
  }

  /** Nobody commands without a password, and no sentence that was kept (§3.3.1.3) is obeyed. */
  @Test
  void sentencesAreCarriedOutByTheRulesOfTheirRole() throws Exception {
    Path passwords = folder.resolve("passwords");
    Broker.run("mosquitto_passwd", "-c", "-b", passwords.toString(), "tappet", "semaphore");
    Path password = Files.writeString(folder.resolve("mqtt.password"), "semaphore\n");
    Settings.Extras extras;
    try (Broker broker =
        new Broker(
            folder,
            "allow_anonymous false\npassword_file " + passwords,
            "-u",
            "tappet",
            "-P",
            "semaphore")) {
      extras =
          extras(
              broker.port,
              Optional.of(new MqttPlan.Login("tappet", password)),
              Optional.empty(),
              Optional.of(new MqttPlan.Commands(Role.DISPATCHER, Optional.of("west"))));
      broker.publish("ambrose/tell", sentence("stop clock", "kept"), true);
      try (QuickDaemon daemon = daemon(extras);
          Broker.Listener told = broker.listen("ambrose/told/+");
          Broker.Listener all = broker.listen("ambrose/#")) {
        told.await("kept", line -> line.contains("\"id\":\"kept\",\"answer\":\"retained\""));
        broker.publish("ambrose/tell", sentence("set clock to 09:00", "now"), false);
        told.await("done", line -> line.contains("\"id\":\"now\",\"answer\":\"done\""));
        all.await("the clock", line -> line.matches("ambrose/clock/clock [01] .*\"09:0.*"));
        broker.publish("ambrose/tell", sentence("line c2e to corvane-end", "east"), false);
        told.await(
            "elsewhere", line -> line.contains("\"id\":\"east\",\"answer\":\"not allowed\""));
        assertTrue(daemon.daemon().box().ask((box, nowNs) -> box.ready()).join());
      }
      Files.writeString(password, "wrong\n");
      try (QuickDaemon daemon = daemon(extras)) {
        awaitAlarms(daemon, 1);
      }
    }
  }

  private static String sentence(String say, String id) {
    return "{\"say\": \"%s\", \"id\": \"%s\", \"at\": %d}"
        .formatted(say, id, System.currentTimeMillis());
  }

  /** A certificate that is not vouched for is not trusted (RFC 5280 §6; RFC 2818 §3.1). */
  @Test
  void encryptedBrokerIsTrustedOnlyByItsCertificate() throws Exception {
    Path certificate = folder.resolve("broker.pem");
    Path key = folder.resolve("broker.key");
    Broker.run(
        "openssl",
        "req",
        "-x509",
        "-newkey",
        "rsa:2048",
        "-nodes",
        "-days",
        "2",
        "-subj",
        "/CN=broker",
        "-addext",
        "subjectAltName=IP:127.0.0.1",
        "-keyout",
        key.toString(),
        "-out",
        certificate.toString());
    String settings = ANYBODY + "\ncertfile " + certificate + "\nkeyfile " + key;
    try (Broker broker = new Broker(folder, settings, "--cafile", certificate.toString())) {
      try (QuickDaemon daemon = daemon(withTls(broker, Optional.of(certificate)));
          Broker.Listener all = broker.listen("ambrose/#")) {
        all.await("it is there", line -> line.matches("ambrose/online [01] online"));
        assertEquals(List.of(), alarms(daemon));
      }
      try (QuickDaemon daemon = daemon(withTls(broker, Optional.empty()))) {
        awaitAlarms(daemon, 1);
      }
    }
  }

  private static Settings.Extras withTls(Broker broker, Optional<Path> trust) {
    return extras(
        broker.port, Optional.empty(), Optional.of(new MqttPlan.Tls(trust)), Optional.empty());
  }
}
