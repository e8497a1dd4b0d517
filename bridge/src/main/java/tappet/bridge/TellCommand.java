package tappet.bridge;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code tappet tell}. */
@Command(
    name = "tell",
    description = "Tells the running daemon to do something; says why if it refuses.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Sentences:",
      "  line t2e to t4e        cancel t2e        throw y1 reverse",
      "  run 'Extra 41'         run 'Extra 41' west        halt 'Extra 41'",
      "  start clock        stop clock        set clock to 06:30        set clock rate to 4"
    })
final class TellCommand implements Callable<Integer> {

  @Mixin private DeskOption desk;

  @Parameters(paramLabel = "SENTENCE", description = "such as \"line t2e to t4e\"")
  private String sentence;

  @Override
  public Integer call() {
    return new DeskClient().post(desk.uri("/tell"), sentence);
  }
}
