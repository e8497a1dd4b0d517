package tappet.bridge.mqtt;

import java.nio.file.Path;
import java.util.Optional;
import tappet.bridge.pages.Role;

/**
 * How the daemon uses an MQTT broker.
 *
 * @param prefix the first level of every topic
 * @param client the client identifier, one of its own for each daemon
 * @param login with what the broker lets the daemon in; empty: with nothing
 * @param tls whether and how the connection is encrypted; empty: it is not
 * @param commands who may command by it; empty: nobody
 */
public record MqttPlan(
    String host,
    int port,
    String prefix,
    String client,
    Optional<Login> login,
    Optional<Tls> tls,
    Optional<Commands> commands) {

  /** A user with a password that stands in a file of its own. */
  public record Login(String user, Path passwordFile) {}

  /**
   * Encryption.
   *
   * @param trust the certificate that vouches for the broker, as PEM; empty: those that the machine
   *     trusts
   */
  public record Tls(Optional<Path> trust) {}

  /**
   * Leave to command.
   *
   * @param role crew or dispatcher
   * @param territory the part of the railroad; empty: all of it
   */
  public record Commands(Role role, Optional<String> territory) {}

  /** The broker, in an owner's words. */
  public String broker() {
    return "MQTT broker " + host + ":" + port;
  }
}
