package tappet.bridge;

import java.net.URI;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import tappet.bridge.web.Desk;

/** Where a command finds the running daemon. */
final class DeskOption {

  @Option(
      names = "--desk",
      paramLabel = "HOST:PORT",
      defaultValue = "127.0.0.1:" + Desk.PORT,
      description = "where the running daemon is asked (default: ${DEFAULT-VALUE})")
  private String address;

  @Spec(Spec.Target.MIXEE)
  private CommandSpec command;

  /**
   * The address of a question.
   *
   * @throws ParameterException if the owner gave no address
   */
  URI uri(String pathAndQuery) {
    if (SettingsReader.address(address).isEmpty()) {
      throw new ParameterException(
          command.commandLine(),
          "'%s' is no address; write for example --desk 127.0.0.1:%d"
              .formatted(address, Desk.PORT));
    }
    return URI.create("http://" + address + pathAndQuery);
  }
}
