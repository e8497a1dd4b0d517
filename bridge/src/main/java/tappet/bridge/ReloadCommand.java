package tappet.bridge;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import tappet.bridge.reload.Progress.Phase;

/** {@code tappet reload}. */
@Command(
    name = "reload",
    description = {
      "Has layout and rules read again by the running daemon, proven, and compared with what runs.",
      "They take over where nothing that has changed is in use; no signal elsewhere is touched.",
      "If anything stands against it, the old files run on."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {
      "0:the new files have taken over, or with --try would",
      "1:they cannot take over as they are, it was called off, or no daemon answers",
      "2:the command was not understood",
      "3:something that has changed is in use now"
    },
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "The settings are read at a start only. Rules without a proof take over only by --unproven.",
      "Where the daemon may not write beside the rules, run 'tappet prove' before: a verdict on these",
      "very files is taken as it is, and the next start knows it too."
    })
final class ReloadCommand implements Callable<Integer> {

  private static final long AGAIN_MS = 300;
  private static final int IN_USE = 3;

  @Mixin private DeskOption desk;

  @ArgGroup private What what = new What();

  @Option(
      names = "--unproven",
      description =
          "do not prove the rules; an alarm says for as long as they run that they are not")
  private boolean unproven;

  /** One of these, or none of them. */
  private static final class What {

    @Option(names = "--try", description = "only tell what would be")
    private boolean justTry;

    @Option(
        names = "--wait",
        arity = "0..1",
        fallbackValue = "60",
        paramLabel = "SECONDS",
        description = "wait until nothing that has changed is in use (60 s unless said otherwise)")
    private Optional<Long> waitS = Optional.empty();

    @Option(names = "--cancel", description = "call off a reload that is under way")
    private boolean cancel;

    String wish() {
      if (justTry) {
        return "try";
      }
      return waitS.map(seconds -> "wait " + seconds).orElse("apply");
    }
  }

  @Override
  public Integer call() throws InterruptedException {
    DeskClient client = new DeskClient();
    if (what.cancel) {
      return client.post(desk.uri("/reload"), "cancel");
    }
    String wish = what.wish() + (unproven ? " unproven" : "");
    return client.begin(desk.uri("/reload"), wish) ? follow(client) : 1;
  }

  /** Prints each line once, until the reload has come to an end. */
  private int follow(DeskClient client) throws InterruptedException {
    int told = 0;
    while (true) {
      Optional<String> text = client.text(desk.uri("/reload"));
      if (text.isEmpty()) {
        return 1;
      }
      List<String> lines = text.get().lines().toList();
      Phase phase = Phase.of(lines.get(0));
      boolean over = !phase.isBusy();
      int whole = (int) lines.stream().skip(1).filter(line -> over || isReport(line)).count() + 1;
      lines.subList(Math.min(told + 1, whole), whole).forEach(System.out::println);
      told = Math.max(told, whole - 1);
      if (over) {
        System.out.println(phase.words());
        return status(phase);
      }
      TimeUnit.MILLISECONDS.sleep(AGAIN_MS);
    }
  }

  /** What stands against it changes from one moment to the next, and is told at the end. */
  private static boolean isReport(String line) {
    return !line.startsWith("stands against it: ");
  }

  private static int status(Phase phase) {
    return switch (phase) {
      case DONE, POSSIBLE -> 0;
      case IN_USE -> IN_USE;
      default -> 1;
    };
  }
}
