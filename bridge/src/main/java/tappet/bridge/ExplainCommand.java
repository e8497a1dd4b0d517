package tappet.bridge;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** {@code tappet explain}. */
@Command(
    name = "explain",
    description = {
      "Explains an alarm, a line of the log, a mistake in a file or a refusal, and says what to do:",
      "what the owner's handbook has of it."
    },
    exitCodeListHeading = "Exit status:%n",
    exitCodeList = {"0:it is explained", "1:the handbook has no such message"},
    mixinStandardHelpOptions = true)
final class ExplainCommand implements Callable<Integer> {

  private static final int NEAR_MAX = 3;

  @Parameters(
      arity = "1..*",
      paramLabel = "TEXT",
      description = "the message as it was told, or as much of it as you have; or its id")
  private List<String> words;

  @Override
  public Integer call() {
    String text = String.join(" ", words);
    Handbook handbook = Handbook.read();
    Optional<Handbook.Entry> entry = handbook.of(text).or(() -> handbook.readIn(text));
    entry.ifPresentOrElse(ExplainCommand::tell, () -> tellNear(handbook, text));
    return entry.isPresent() ? 0 : 1;
  }

  private static void tellNear(Handbook handbook, String text) {
    List<Handbook.Entry> near = handbook.near(text, NEAR_MAX);
    System.out.println(
        near.isEmpty()
            ? "The handbook has no such message."
            : "The handbook has no such message; the nearest are:");
    near.forEach(ExplainCommand::tell);
  }

  private static void tell(Handbook.Entry entry) {
    System.out.println();
    entry.lines().forEach(System.out::println);
  }
}
