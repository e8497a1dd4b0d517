package tappet.bridge;

import java.util.List;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The command line. */
@Command(
    name = "tappet",
    description = "Signalling and interlocking for a model railway on an LCC bus.",
    mixinStandardHelpOptions = true,
    versionProvider = Tappet.Version.class,
    footer = {
      "",
      "A hobby control system: not for real railways or anything that can hurt people.",
      "Keep an emergency stop within reach."
    })
public final class Tappet implements Runnable {

  /** Each is called by the name of its class. */
  private static final List<Class<?>> COMMANDS =
      List.of(
          DemoCommand.class,
          RunCommand.class,
          CheckCommand.class,
          DraftCommand.class,
          ProveCommand.class,
          RehearseCommand.class,
          ReplayCommand.class,
          JournalCommand.class,
          SessionCommand.class,
          ReloadCommand.class,
          TellCommand.class,
          WhyCommand.class,
          WatchCommand.class,
          ExplainCommand.class);

  /**
   * Runs one command; the exit status is 0 if it was done, 1 if not, 2 if it was not understood.
   */
  public static void main(String[] arguments) {
    System.exit(execute(arguments));
  }

  /**
   * Looks at the command that is asked for, and at all of them only if there is none of that name:
   * to look at all takes a sixth of the time that the daemon takes to start.
   */
  static int execute(String... arguments) {
    List<String> words = List.of(arguments);
    words.stream().findFirst().ifPresent(HeadStart::of);
    return words.stream()
        .findFirst()
        .flatMap(Tappet::command)
        .map(command -> command.execute(words.subList(1, words.size()).toArray(String[]::new)))
        .orElseGet(() -> all().execute(arguments));
  }

  private static CommandLine all() {
    CommandLine all = new CommandLine(new Tappet());
    for (Class<?> command : COMMANDS) {
      all.addSubcommand(command);
    }
    return all;
  }

  /** One command alone. */
  private static Optional<CommandLine> command(String word) {
    return COMMANDS.stream()
        .filter(type -> type.getSimpleName().equals(capital(word) + "Command"))
        .findFirst()
        .map(type -> new CommandLine(type).setCommandName("tappet " + word));
  }

  private static String capital(String word) {
    return word.isEmpty() ? word : Character.toUpperCase(word.charAt(0)) + word.substring(1);
  }

  @Override
  public void run() {
    CommandLine.usage(this, System.out);
  }

  /** The version the jar was built with. */
  static String version() {
    String version = Tappet.class.getPackage().getImplementationVersion();
    return version == null ? "not packaged" : version;
  }

  /** Tells the version on the command line. */
  static final class Version implements CommandLine.IVersionProvider {
    @Override
    public String[] getVersion() {
      return new String[] {"tappet " + version()};
    }
  }
}
