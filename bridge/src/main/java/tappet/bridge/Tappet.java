package tappet.bridge;

import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The command line. */
@Command(
    name = "tappet",
    description = "Signalling and interlocking for a model railway on an LCC bus.",
    mixinStandardHelpOptions = true,
    versionProvider = Tappet.Version.class,
    subcommands = {
      DemoCommand.class,
      RunCommand.class,
      CheckCommand.class,
      DraftCommand.class,
      ProveCommand.class,
      RehearseCommand.class,
      ReplayCommand.class,
      SessionCommand.class,
      ReloadCommand.class,
      TellCommand.class,
      WhyCommand.class,
      WatchCommand.class
    },
    footer = {
      "",
      "A hobby control system: not for real railways or anything that can hurt people.",
      "Keep an emergency stop within reach."
    })
public final class Tappet implements Runnable {

  /**
   * Runs one command; the exit status is 0 if it was done, 1 if not, 2 if it was not understood.
   */
  public static void main(String[] arguments) {
    System.exit(new CommandLine(new Tappet()).execute(arguments));
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
