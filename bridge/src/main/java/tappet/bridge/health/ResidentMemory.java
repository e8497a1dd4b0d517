package tappet.bridge.health;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** What the process occupies, as Linux tells it (proc(5), {@code /proc/pid/status}). */
final class ResidentMemory {

  private static final Path STATUS = Path.of("/proc/self/status");
  private static final String LINE = "VmRSS:";
  private static final long KIB = 1_024;

  private ResidentMemory() {}

  /** In bytes; 0 where the machine does not tell. */
  static long bytes() {
    try {
      return Files.readAllLines(STATUS).stream()
          .filter(line -> line.startsWith(LINE))
          .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")) * KIB)
          .findFirst()
          .orElse(0);
    } catch (IOException e) {
      return 0;
    }
  }
}
