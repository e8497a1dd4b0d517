package tappet.bridge.reload;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.bridge.proof.KeptVerdict.Answer;
import tappet.bridge.proof.ProofReport;
import tappet.bridge.proof.RailroadFiles;

/** A proof in a process of its own, which has a heap of its own and gives way to all others. */
public final class ProofProcess implements AutoCloseable {

  /** As much of a report as a person reads. */
  private static final int LINES_MAX = 200;

  private final Process process;

  /**
   * What came of it.
   *
   * @param lines what it has told
   * @param status its exit status
   */
  public record Result(List<String> lines, int status) {
    public Result {
      lines = List.copyOf(lines);
    }

    /**
     * What it has found, whether or not it could be kept; empty where it came to no end. Java that
     * cannot even begin ends like a disproof, so that one counts only where it is told.
     */
    Optional<Answer> answer() {
      return Answer.of(status).filter(found -> found != Answer.DISPROVEN || tellsDisproof());
    }

    private boolean tellsDisproof() {
      return lines.stream().anyMatch(line -> line.startsWith(ProofReport.DISPROVEN));
    }
  }

  private ProofProcess(Process process) {
    this.process = process;
  }

  /**
   * Begins. What it says of its troubles is read with the rest; it is told that nobody could watch
   * a bar.
   *
   * @throws IOException if there is no such program
   */
  public static ProofProcess begin(List<String> command) throws IOException {
    ProcessBuilder begun = new ProcessBuilder(command).redirectErrorStream(true);
    begun.environment().put("TERM", "dumb");
    return new ProofProcess(begun.start());
  }

  /** The command that proves an edition, and no other, with the same Java and the same Tappet. */
  public static List<String> command(String mainClass, Edition edition) {
    RailroadFiles files = edition.files();
    return List.of(
        "nice",
        "-n",
        "10",
        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
        "-XX:+UseSerialGC",
        "-Xmx512m",
        // What it tells is read as UTF-8; the others are what Java calls it from version 19 on.
        "-Dsun.stdout.encoding=UTF-8",
        "-Dsun.stderr.encoding=UTF-8",
        "-Dstdout.encoding=UTF-8",
        "-Dstderr.encoding=UTF-8",
        "-cp",
        System.getProperty("java.class.path"),
        mainClass,
        "prove",
        "--digest=" + files.digest(edition.interlocking().network()),
        files.layout().file().toString(),
        files.rules().file().toString());
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
