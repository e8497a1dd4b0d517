package tappet.bridge.reload;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** A proof in a process of its own, which has a heap of its own and gives way to all others. */
public final class ProofProcess implements AutoCloseable {

  /** As much of a report as a person reads. */
  private static final int LINES_MAX = 200;

  private final Process process;

  /**
   * What came of it.
   *
   * @param lines what it has told
   * @param status its exit status; 0, 1 or 3 if it came to its end
   */
  public record Result(List<String> lines, int status) {
    public Result {
      lines = List.copyOf(lines);
    }

    /** Whether it came to an end of its own. */
    public boolean isWhole() {
      return status == 0 || status == 1 || status == 3;
    }
  }

  private ProofProcess(Process process) {
    this.process = process;
  }

  /**
   * Begins.
   *
   * @throws IOException if there is no such program
   */
  public static ProofProcess begin(List<String> command) throws IOException {
    return new ProofProcess(
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.DISCARD).start());
  }

  /** The command that proves a layout and its rules with the same Java and the same Tappet. */
  public static List<String> command(String mainClass, Path layout, Path rules) {
    return List.of(
        "nice",
        "-n",
        "10",
        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
        "-XX:+UseSerialGC",
        "-Xmx512m",
        // What it tells is read as UTF-8; the second is what Java calls it from version 19 on.
        "-Dsun.stdout.encoding=UTF-8",
        "-Dstdout.encoding=UTF-8",
        "-cp",
        System.getProperty("java.class.path"),
        mainClass,
        "prove",
        layout.toString(),
        rules.toString());
  }

  /** Waits for its end. */
  public Result await() throws IOException, InterruptedException {
    List<String> lines = new ArrayList<>();
    try (BufferedReader told =
        new BufferedReader(
            new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
      for (String line = told.readLine(); line != null; line = told.readLine()) {
        if (lines.size() < LINES_MAX) {
          lines.add(line);
        }
      }
    }
    return new Result(lines, process.waitFor());
  }

  /** The process's number, for people. */
  public long pid() {
    return process.pid();
  }

  /** Ends it, wherever it is. */
  @Override
  public void close() {
    process.destroy();
  }
}
