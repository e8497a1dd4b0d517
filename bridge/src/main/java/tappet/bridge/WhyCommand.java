package tappet.bridge;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code tappet why}. */
@Command(
    name = "why",
    description =
        "Says why a signal, switch, section or route is as it is, or what the clock shows.",
    mixinStandardHelpOptions = true)
final class WhyCommand implements Callable<Integer> {

  @Mixin private DeskOption desk;

  @Parameters(paramLabel = "NAME", description = "such as t2e")
  private String name;

  @Override
  public Integer call() {
    String query = URLEncoder.encode(name, StandardCharsets.UTF_8);
    return new DeskClient().get(desk.uri("/why?name=" + query));
  }
}
