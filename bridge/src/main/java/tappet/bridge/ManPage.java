package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * Writes the commands for the manual page, in the words that {@code --help} has for them, so that
 * the two never differ. The build lays them into {@code src/package/man/tappet.1}, and calls this
 * from a class loader of its own.
 */
public final class ManPage {

  private ManPage() {}

  /**
   * Writes the section on commands.
   *
   * @param arguments the file to write
   */
  public static void main(String[] arguments) throws IOException {
    Files.writeString(Path.of(arguments[0]), commands(new CommandLine(new Tappet())));
  }

  /** All commands, as man(7) has it. */
  static String commands(CommandLine program) {
    return program.getSubcommands().values().stream()
        .map(command -> command(command.getCommandSpec()))
        .collect(Collectors.joining());
  }

  private static String command(CommandSpec command) {
    return ".SS %s\n%s\n%s%s%s"
        .formatted(
            synopsis(command),
            running(command.usageMessage().description()),
            parameters(command.positionalParameters()),
            options(command.options()),
            statuses(command.usageMessage().exitCodeList()));
  }

  /** The command with its parameters; its options follow one by one. */
  private static String synopsis(CommandSpec command) {
    String parameters =
        command.positionalParameters().stream()
            .map(parameter -> " " + parameter.paramLabel() + more(parameter))
            .collect(Collectors.joining());
    return escaped(command.qualifiedName() + parameters);
  }

  private static String more(PositionalParamSpec parameter) {
    return parameter.arity().max() > 1 ? "..." : "";
  }

  private static String parameters(List<PositionalParamSpec> parameters) {
    return parameters.stream()
        .map(parameter -> entry("\\fI" + escaped(parameter.paramLabel()) + "\\fR", parameter))
        .collect(Collectors.joining());
  }

  private static String options(List<OptionSpec> options) {
    return options.stream()
        .filter(option -> !option.usageHelp() && !option.versionHelp() && !option.hidden())
        .map(option -> entry(name(option), option))
        .collect(Collectors.joining());
  }

  private static String name(OptionSpec option) {
    String name = "\\fB" + escaped(option.longestName()) + "\\fR";
    return option.arity().max() == 0
        ? name
        : name + " \\fI" + escaped(option.paramLabel()) + "\\fR";
  }

  private static String entry(String head, ArgSpec argument) {
    return ".TP\n%s\n%s\n".formatted(head, running(argument.description()));
  }

  private static String statuses(Map<String, String> statuses) {
    if (statuses.isEmpty()) {
      return "";
    }
    return ".PP\nExit status:\n"
        + statuses.entrySet().stream()
            .map(status -> ".TP\n%s\n%s\n".formatted(status.getKey(), escaped(status.getValue())))
            .collect(Collectors.joining());
  }

  /** Lines that were broken for a terminal, as running text. */
  private static String running(String[] lines) {
    return escaped(String.join(" ", lines));
  }

  /** No backslash, hyphen or first letter that the formatter would take for a sign of its own. */
  private static String escaped(String text) {
    String safe = text.replace("\\", "\\e").replace("-", "\\-");
    return safe.startsWith(".") || safe.startsWith("'") ? "\\&" + safe : safe;
  }
}
