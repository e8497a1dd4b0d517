package tappet.bridge.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** What figures were measured on. */
final class Machine {

  private static final String UNKNOWN = "unknown processor";

  private Machine() {}

  /** Cores, processor, kernel and JVM in one line, and how busy it is with other things. */
  static String described() {
    return "%d cores, %s, %s %s, Java %s (%s), load %s"
        .formatted(
            Runtime.getRuntime().availableProcessors(),
            processor(),
            System.getProperty("os.name"),
            System.getProperty("os.version"),
            Runtime.version(),
            System.getProperty("java.vm.name"),
            load());
  }

  private static String processor() {
    try (var lines = Files.lines(Path.of("/proc/cpuinfo"))) {
      return lines
          .filter(line -> line.startsWith("model name") || line.startsWith("Model"))
          .map(line -> line.substring(line.indexOf(':') + 1).strip())
          .findFirst()
          .orElse(UNKNOWN);
    } catch (IOException e) {
      return UNKNOWN;
    }
  }

  private static String load() {
    try {
      return Files.readString(Path.of("/proc/loadavg")).split(" ", 2)[0];
    } catch (IOException e) {
      return "unknown";
    }
  }
}
