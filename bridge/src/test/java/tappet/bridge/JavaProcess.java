package tappet.bridge;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A program from the test's class path in a process of its own, with the daemon's JVM options; it
 * ends with the test.
 */
public final class JavaProcess implements AutoCloseable {

  public static final Duration PATIENCE = Duration.ofSeconds(60);

  private static final long LOOK_AGAIN_MS = 1_000;

  private static final String JAVA =
      Path.of(System.getProperty("java.home"), "bin", "java").toString();
  private static final String CLASSES =
      System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));

  private final Process process;

  /** Guarded by this. */
  private final List<String> lines = new ArrayList<>();

  private boolean allRead;
  private final Thread reader;

  private JavaProcess(Process process) {
    this.process = process;
    this.reader = new Thread(this::read, "reader of process " + process.pid());
    reader.setDaemon(true);
    reader.start();
  }

  public static JavaProcess start(Class<?> main, String... arguments) throws IOException {
    return start(List.of(), main, arguments);
  }

  /** The same with options of the JVM besides, which count more. */
  static JavaProcess start(List<String> options, Class<?> main, String... arguments)
      throws IOException {
    List<String> command = new ArrayList<>(List.of(JAVA, "@bin/jvm.options"));
    command.addAll(options);
    command.addAll(List.of("-cp", CLASSES, main.getName()));
    command.addAll(List.of(arguments));
    return start(command);
  }

  /** Tappet as an owner starts it, by its script, which builds nothing here. */
  public static JavaProcess byScript(String... arguments) throws IOException {
    List<String> command = new ArrayList<>(List.of("bin/tappet"));
    command.addAll(List.of(arguments));
    return start(command);
  }

  private static JavaProcess start(List<String> command) throws IOException {
    return new JavaProcess(new ProcessBuilder(command).redirectErrorStream(true).start());
  }

  private void read() {
    try (BufferedReader output = process.inputReader(StandardCharsets.UTF_8)) {
      output.lines().forEach(this::add);
    } catch (IOException | UncheckedIOException e) {
      add("(the output broke off: " + e.getMessage() + ")");
    }
    endOfLines();
  }

  private synchronized void add(String line) {
    lines.add(line);
    notifyAll();
  }

  private synchronized void endOfLines() {
    allRead = true;
    notifyAll();
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
    return linesSince(0);
  }

  /** Everything written behind a mark. */
  synchronized List<String> linesSince(int mark) {
    return List.copyOf(lines.subList(mark, lines.size()));
  }

  /** How many lines there are: a mark for {@link #awaitLine(int, String)}. */
  synchronized int mark() {
    return lines.size();
  }

  /** Waits for a line with this in it. */
  public MatchResult awaitLine(String pattern) {
    return awaitLine(0, pattern);
  }

  /** Waits for a line behind a mark with this in it. */
  public synchronized MatchResult awaitLine(int mark, String pattern) {
    Pattern wanted = Pattern.compile(pattern);
    long endNs = System.nanoTime() + PATIENCE.toNanos();
    Optional<MatchResult> found = find(mark, wanted);
    try {
      while (found.isEmpty() && !allRead && System.nanoTime() - endNs < 0) {
        wait(LOOK_AGAIN_MS);
        found = find(mark, wanted);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
    String without = allRead ? "it ended without '" : "no line '";
    return found.orElseThrow(() -> new AssertionError(without + pattern + "' in " + lines));
  }

  private synchronized Optional<MatchResult> find(int mark, Pattern wanted) {
    return lines.subList(mark, lines.size()).stream()
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
      throw new AssertionError("the process goes on: " + lines());
    }
    reader.join(PATIENCE.toMillis());
    return process.exitValue();
  }

  /** Lets it go on for so long, and then ends it without a farewell (SIGKILL). */
  void killAfter(Duration time) {
    try {
      boolean unused = process.waitFor(time.toMillis(), TimeUnit.MILLISECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    close();
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
