package tappet.proof;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** A program that we did not write, run to its end. A test that needs one fails without it. */
final class OutsideTool {

  private OutsideTool() {}

  /**
   * All that it prints.
   *
   * @param debianPackage where to get it
   */
  static String run(String debianPackage, List<String> command) {
    try {
      Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
      process.getOutputStream().close();
      String printed = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      process.waitFor();
      return printed;
    } catch (IOException e) {
      throw new AssertionError(
          "'%s' must be there to judge what Tappet proves: apt-get install %s (%s)"
              .formatted(command.get(0), debianPackage, e.getMessage()),
          e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError("interrupted while running " + command, e);
    }
  }
}
