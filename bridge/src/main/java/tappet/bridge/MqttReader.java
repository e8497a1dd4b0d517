package tappet.bridge;

import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import tappet.bridge.mqtt.MqttPlan;
import tappet.bridge.pages.Role;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads how the daemon uses an MQTT broker. */
final class MqttReader {

  static final String EXAMPLE = "{broker: 192.168.1.5:1883}";

  private static final String NAME = "tappet";

  /** One level of a topic; {@code $} begins those of the broker (MQTT 5.0 §4.7). */
  private static final Pattern LEVEL = Pattern.compile("[A-Za-z0-9_-]{1,64}");

  private static final List<String> ROLES = List.of(Role.CREW.word(), Role.DISPATCHER.word());

  private final Path folder;
  private final Set<String> territories;

  /**
   * @param folder where the files lie that are named
   * @param territories those that the settings have
   */
  MqttReader(Path folder, Set<String> territories) {
    this.folder = folder;
    this.territories = territories;
  }

  /** Empty where there is none, or where there is no broker in it. */
  Optional<MqttPlan> plan(Value written) {
    return written
        .called("the connection to a broker", "mqtt: " + EXAMPLE)
        .read(this::plan)
        .flatMap(plan -> plan);
  }

  private Optional<MqttPlan> plan(Fields fields) {
    Optional<InetSocketAddress> broker =
        fields
            .required("broker", "192.168.1.5:1883")
            .parsed(MqttReader::broker, "an address such as 192.168.1.5:1883");
    String prefix = level(fields.optional("prefix", NAME));
    String client = level(fields.optional("client", NAME));
    Optional<MqttPlan.Login> login = login(fields);
    Optional<MqttPlan.Tls> tls = tls(fields);
    Value commands = fields.optional("commands", "{role: crew}");
    if (commands.present() && login.isEmpty()) {
      commands.note(
          "a broker that lets in anybody lets anybody command",
          "add 'user' and 'password file', or leave this out");
    }
    Optional<MqttPlan.Commands> leave = commands.read(this::commands).flatMap(read -> read);
    return broker.map(
        at -> new MqttPlan(at.getHostString(), at.getPort(), prefix, client, login, tls, leave));
  }

  private static Optional<InetSocketAddress> broker(String text) {
    return SettingsReader.address(text).filter(address -> address.getPort() > 0);
  }

  private static String level(Value written) {
    return written
        .parsed(
            text -> Optional.of(text).filter(LEVEL.asMatchPredicate()),
            "a name of 1 to 64 letters, digits, '-' and '_'")
        .orElse(NAME);
  }

  private Optional<MqttPlan.Login> login(Fields fields) {
    Value user = fields.optional("user", NAME);
    Value file = fields.optional("password file", "mqtt.password");
    if (user.present() && !file.present()) {
      user.note("a user needs a password", "add for example 'password file: mqtt.password'");
    }
    if (file.present() && !user.present()) {
      file.note("a password is of no use without a user", "add for example 'user: tappet'");
    }
    Optional<Path> path = FileName.read(file, folder);
    return user.text()
        .map(YamlNode.Text::value)
        .flatMap(name -> path.map(found -> new MqttPlan.Login(name, found)));
  }

  private Optional<MqttPlan.Tls> tls(Fields fields) {
    boolean wanted = fields.optional("tls", "yes").yesOrNo().orElse(false);
    Value trust = fields.optional("trust", "broker-ca.pem");
    if (trust.present() && !wanted) {
      trust.note("without encryption nothing is vouched for", "add 'tls: yes'");
    }
    return wanted ? Optional.of(new MqttPlan.Tls(FileName.read(trust, folder))) : Optional.empty();
  }

  private Optional<MqttPlan.Commands> commands(Fields fields) {
    Optional<Role> role =
        fields
            .required("role", Role.CREW.word())
            .word(ROLES)
            .flatMap(word -> Role.of(word.value()));
    Value written = fields.optional("territory", "west");
    Optional<String> territory = written.text().map(YamlNode.Text::value);
    territory
        .filter(named -> !territories.contains(named))
        .ifPresent(
            named ->
                written.note(
                    "there is no territory '%s'".formatted(named),
                    NearNames.meant(named, territories, "add it under 'territories'")));
    return role.map(allowed -> new MqttPlan.Commands(allowed, territory));
  }
}
