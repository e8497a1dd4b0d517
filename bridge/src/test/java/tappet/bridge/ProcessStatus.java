package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** What Linux tells of a process that runs (proc(5), /proc/pid/status). */
public final class ProcessStatus {

  private static final String RESIDENT = "VmRSS:";

  private ProcessStatus() {}

  /** Memory that is resident now, in units of 1,024 bytes. */
  public static long residentKb(long process) throws IOException {
    return Files.readAllLines(Path.of("/proc/" + process + "/status")).stream()
        .filter(line -> line.startsWith(RESIDENT))
        .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
        .findFirst()
        .orElseThrow(() -> new IOException("process " + process + " tells no " + RESIDENT));
  }

  /** The same in megabytes of 1,000,000 bytes. */
  public static double residentMb(long process) throws IOException {
    return residentKb(process) * 1_024 / 1e6;
  }
}
