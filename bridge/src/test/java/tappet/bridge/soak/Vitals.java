package tappet.bridge.soak;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.ToLongFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import tappet.bridge.ProcessStatus;

/**
 * What a process holds at one moment.
 *
 * @param residentKb memory that is resident
 * @param liveKb what is left on the Java heap after a full collection
 * @param threads how many it runs, without those by which Java compiles, which come and go
 * @param files how many it has open, sockets among them
 */
record Vitals(long residentKb, long liveKb, long threads, long files) {

  /** The last line of a histogram: how many objects live, and how many bytes they take. */
  private static final Pattern TOTAL = Pattern.compile("Total\\s+\\d+\\s+(\\d+)");

  private static final Pattern COMPILER = Pattern.compile("C[12] Compiler");

  /** Takes them; the heap is counted in one stop with a full collection, so no garbage is. */
  static Vitals of(long process) throws IOException, InterruptedException {
    String histogram = jcmd(process, "GC.class_histogram");
    Matcher total = TOTAL.matcher(histogram);
    if (!total.find()) {
      throw new IOException("the heap of process " + process + " cannot be read");
    }
    long liveKb = Long.parseLong(total.group(1)) / 1_024;
    try (Stream<Path> files = Files.list(Path.of("/proc/" + process + "/fd"))) {
      return new Vitals(ProcessStatus.residentKb(process), liveKb, threads(process), files.count());
    }
  }

  private static long threads(long process) throws IOException {
    long count = 0;
    try (DirectoryStream<Path> all =
        Files.newDirectoryStream(Path.of("/proc/" + process + "/task"))) {
      for (Path thread : all) {
        count += isOfTheDaemon(thread) ? 1 : 0;
      }
    }
    return count;
  }

  /** One that ends while it is looked at runs no more. */
  private static boolean isOfTheDaemon(Path thread) {
    try {
      return !COMPILER.matcher(Files.readString(thread.resolve("comm"))).lookingAt();
    } catch (IOException e) {
      return false;
    }
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
