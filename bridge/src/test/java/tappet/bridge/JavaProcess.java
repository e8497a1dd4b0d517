package tappet.bridge;

import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.awaitility.core.ConditionTimeoutException;

/**
 * A program from the test's class path in a process of its own, with the daemon's JVM options; it
 * ends with the test.
 */
public final class JavaProcess implements AutoCloseable {

  public static final Duration PATIENCE = Duration.ofSeconds(60);

  private static final String JAVA =
      Path.of(System.getProperty("java.home"), "bin", "java").toString();
  private static final String CLASSES =
      System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));

  private final Process process;
  private final List<String> lines = new CopyOnWriteArrayList<>();
  private final Thread reader;

  private JavaProcess(Process process) {
    this.process = process;
    this.reader = new Thread(this::read, "reader of process " + process.pid());
    reader.setDaemon(true);
    reader.start();
  }

  public static JavaProcess start(Class<?> main, String... arguments) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                JAVA,
                "@bin/jvm.options",
                "-Dlogback.configurationFile=../config/logback.xml",
                "-cp",
                CLASSES,
                main.getName()));
    command.addAll(List.of(arguments));
    return new JavaProcess(new ProcessBuilder(command).redirectErrorStream(true).start());
  }

  private void read() {
    try (BufferedReader output = process.inputReader(StandardCharsets.UTF_8)) {
      output.lines().forEach(lines::add);
    } catch (IOException | UncheckedIOException e) {
      lines.add("(the output broke off: " + e.getMessage() + ")");
    }
  }

  /** Its number among the machine's processes. */
  public long id() {
    return process.pid();
  }

  public boolean isAlive() {
    return process.isAlive();
  }

  /** Everything written so far. */
  public List<String> lines() {
    return List.copyOf(lines);
  }

  /** How many lines there are: a mark for {@link #awaitLine(int, String)}. */
  int mark() {
    return lines.size();
  }

  /** Waits for a line with this in it. */
  public MatchResult awaitLine(String pattern) {
    return awaitLine(0, pattern);
  }

  /** Waits for a line behind a mark with this in it. */
  public MatchResult awaitLine(int mark, String pattern) {
    Pattern wanted = Pattern.compile(pattern);
    try {
      await().atMost(PATIENCE).until(() -> find(mark, wanted).isPresent() || hasEnded());
    } catch (ConditionTimeoutException e) {
      throw new AssertionError("no line '" + pattern + "' in " + lines, e);
    }
    return find(mark, wanted)
        .orElseThrow(() -> new AssertionError("it ended without '" + pattern + "': " + lines));
  }

  /** Whether the process has ended, and all that it wrote has been read. */
  private boolean hasEnded() {
    return !process.isAlive() && !reader.isAlive();
  }

  private Optional<MatchResult> find(int mark, Pattern wanted) {
    return lines().stream()
        .skip(mark)
        .map(wanted::matcher)
        .filter(Matcher::find)
        .map(Matcher::toMatchResult)
        .findFirst();
  }

  /** Types a line. */
  void type(String line) throws IOException {
    process.getOutputStream().write((line + "\n").getBytes(StandardCharsets.UTF_8));
    process.getOutputStream().flush();
  }

  /** Asks it to end (SIGTERM); answers the exit status. */
  public int terminate() throws InterruptedException {
    process.destroy();
    return awaitEnd();
  }

  /** Waits for its end; answers the exit status. */
  int awaitEnd() throws InterruptedException {
    if (!process.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS)) {
      throw new AssertionError("the process goes on: " + lines);
    }
    reader.join(PATIENCE.toMillis());
    return process.exitValue();
  }

  /** Ends it without a farewell (SIGKILL). */
  @Override
  public void close() {
    process.destroyForcibly();
    try {
      awaitEnd();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
