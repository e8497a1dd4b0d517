package tappet.bridge;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** {@code tappet watch}. */
@Command(
    name = "watch",
    description = "Shows live what goes on: frames in and out, and what they change.",
    mixinStandardHelpOptions = true)
final class WatchCommand implements Callable<Integer> {

  @Mixin private DeskOption desk;

  @Override
  public Integer call() {
    return new DeskClient().follow(desk.uri("/watch"));
  }
}
