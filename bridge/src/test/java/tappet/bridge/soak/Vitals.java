package tappet.bridge.soak;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.ToLongFunction;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What a process holds at one moment.
 *
 * @param residentKb memory that is resident
 * @param liveKb what is left on the Java heap after a full collection
 * @param threads how many it runs
 * @param files how many it has open, sockets among them
 */
record Vitals(long residentKb, long liveKb, long threads, long files) {

  private static final Pattern USED = Pattern.compile("generation\\s+total \\d+K, used (\\d+)K");

  /** Takes them; a full collection goes before. */
  static Vitals of(long process) throws IOException, InterruptedException {
    String unused = jcmd(process, "GC.run");
    long liveKb =
        USED.matcher(jcmd(process, "GC.heap_info")).results().mapToLong(Vitals::number).sum();
    if (liveKb == 0) {
      throw new IOException("the heap of process " + process + " cannot be read");
    }
    try (Stream<Path> files = Files.list(Path.of("/proc/" + process + "/fd"))) {
      return new Vitals(
          status(process, "VmRSS"), liveKb, status(process, "Threads"), files.count());
    }
  }

  private static long number(MatchResult found) {
    return Long.parseLong(found.group(1));
  }

  private static long status(long process, String key) throws IOException {
    String status = Files.readString(Path.of("/proc/" + process + "/status"));
    Matcher line = Pattern.compile("(?m)^" + key + ":\\s+(\\d+)").matcher(status);
    if (!line.find()) {
      throw new IOException("process " + process + " tells no " + key);
    }
    return number(line);
  }

  private static String jcmd(long process, String command)
      throws IOException, InterruptedException {
    String jcmd = Path.of(System.getProperty("java.home"), "bin", "jcmd").toString();
    Process asked =
        new ProcessBuilder(jcmd, String.valueOf(process), command)
            .redirectErrorStream(true)
            .start();
    String answer = new String(asked.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (asked.waitFor() != 0) {
      throw new IOException("jcmd " + command + ": " + answer);
    }
    return answer;
  }

  static long median(List<Vitals> samples, ToLongFunction<Vitals> what) {
    return samples.stream().mapToLong(what).sorted().toArray()[samples.size() / 2];
  }
}
