package tappet.bridge.measure;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import tappet.bridge.ProcessStatus;

/** A program in a process of its own, with the daemon's JVM options; it ends when closed. */
final class Program implements AutoCloseable {

  private static final long PATIENCE_S = 60;
  private static final Pattern ADDRESSES =
      Pattern.compile("hub at 127\\.0\\.0\\.1:(\\d+), desk at 127\\.0\\.0\\.1:(\\d+)");
  private static final Pattern COMPLAINT = Pattern.compile(" (WARN|ERROR) ");
  private static final Path HOME = Path.of(System.getProperty("tappet.home", ".."));
  private static final String JAVA =
      Path.of(System.getProperty("java.home"), "bin", "java").toString();
  private static final String OWN_CLASSES =
      System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
  private static final String DAEMON = "tappet.bridge.Tappet";

  private final Process process;
  private final long startedNs;
  private final CompletableFuture<FirstLine> firstLine = new CompletableFuture<>();
  private final List<String> complaints = new CopyOnWriteArrayList<>();

  /** The line waited for, and when it came. */
  private record FirstLine(Matcher found, long atNs) {}

  private Program(List<String> command, Pattern awaited) throws IOException {
    startedNs = System.nanoTime();
    process = new ProcessBuilder(command).redirectErrorStream(true).start();
    Thread reader = new Thread(() -> read(awaited), "output of " + process.pid());
    reader.setDaemon(true);
    reader.start();
  }

  /** The daemon as an owner starts it, by {@code bridge/bin/tappet}. */
  static Program daemonByScript(Path settings) throws IOException {
    return daemon(List.of(HOME.resolve("bridge/bin/tappet").toString()), settings);
  }

  /** The demo with its session, so many times as fast, by {@code bridge/bin/tappet}. */
  static Program sessionByScript(Path settings, int speed) throws IOException {
    return session(List.of(HOME.resolve("bridge/bin/tappet").toString()), settings, speed);
  }

  /** The same from this program's own classes, which need not be packaged. */
  static Program sessionFromClasses(Path settings, int speed) throws IOException {
    return session(java(OWN_CLASSES, DAEMON), settings, speed);
  }

  private static Program session(List<String> beginning, Path settings, int speed)
      throws IOException {
    List<String> command = new ArrayList<>(beginning);
    command.addAll(List.of("demo", "--session", "--speed", String.valueOf(speed)));
    command.addAll(List.of("--config", settings.toString()));
    return new Program(command, ADDRESSES);
  }

  /** The daemon from the jars that the script starts, without a class-data archive. */
  static Program daemonWithoutArchive(Path settings) throws IOException {
    List<String> command = jars();
    command.add(DAEMON);
    return daemon(command, settings);
  }

  /** How Java is called with the jars that the script starts, and with others. */
  static List<String> jars(String... others) {
    Path target = HOME.resolve("bridge/target");
    List<String> jars = new ArrayList<>(List.of(others));
    jars.add(target.resolve("bridge-0.1.0.jar").toString());
    jars.add(target.resolve("lib") + "/*");
    return java(String.join(":", jars));
  }

  /** The daemon from this program's own classes, which need not be packaged. */
  static Program daemonFromClasses(Path settings) throws IOException {
    return daemon(java(OWN_CLASSES, DAEMON), settings);
  }

  /** Another program of these measurements, which prints a line that matches {@code awaited}. */
  static Program of(Class<?> main, Pattern awaited) throws IOException {
    return of(java(OWN_CLASSES, main.getName()), awaited);
  }

  /** The same by a command. */
  static Program of(List<String> command, Pattern awaited) throws IOException {
    return new Program(command, awaited);
  }

  private static Program daemon(List<String> beginning, Path settings) throws IOException {
    List<String> command = new ArrayList<>(beginning);
    command.addAll(List.of("run", "--config", settings.toString()));
    return new Program(command, ADDRESSES);
  }

  private static List<String> java(String classes, String... main) {
    List<String> command =
        new ArrayList<>(
            List.of(
                JAVA,
                "@" + HOME.resolve("bridge/bin/jvm.options"),
                "-Dtappet.home=" + HOME,
                "-cp",
                classes));
    command.addAll(List.of(main));
    return command;
  }

  /** Reads on after the awaited line, so that the program never waits for its reader. */
  private void read(Pattern awaited) {
    List<String> others = new ArrayList<>();
    try (BufferedReader output = process.inputReader(StandardCharsets.UTF_8)) {
      output.lines().forEach(line -> look(line, awaited, others));
    } catch (IOException | UncheckedIOException e) {
      others.add(e.toString());
    }
    firstLine.completeExceptionally(
        new IOException("it ended: " + others.stream().collect(Collectors.joining("\n"))));
  }

  private void look(String line, Pattern awaited, List<String> others) {
    Matcher matcher = awaited.matcher(line);
    if (!firstLine.isDone() && matcher.find()) {
      firstLine.complete(new FirstLine(matcher, System.nanoTime()));
    } else if (!firstLine.isDone()) {
      others.add(line);
    } else if (COMPLAINT.matcher(line).find()) {
      complaints.add(line);
    }
  }

  private FirstLine awaited() throws IOException {
    try {
      return firstLine.get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (ExecutionException | TimeoutException e) {
      throw new IOException("the program did not come up", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException(e);
    }
  }

  /** The port in group {@code number} of the awaited line. */
  private InetSocketAddress address(int number) throws IOException {
    return new InetSocketAddress(
        InetAddress.getLoopbackAddress(), Integer.parseInt(awaited().found().group(number)));
  }

  /** The daemon's hub, or the only address that another program tells. */
  InetSocketAddress hub() throws IOException {
    return address(1);
  }

  InetSocketAddress desk() throws IOException {
    return address(2);
  }

  /** The warnings and errors that it has logged since the awaited line. */
  List<String> complaints() {
    return List.copyOf(complaints);
  }

  /** When the process was started, by {@link System#nanoTime}. */
  long startedNs() {
    return startedNs;
  }

  /** From the start of the process to the awaited line. */
  long readyNs() throws IOException {
    return awaited().atNs() - startedNs;
  }

  /** Memory that is resident now, in megabytes of 1,000,000 bytes. */
  double residentMb() throws IOException {
    return ProcessStatus.residentMb(process.pid());
  }

  /** Time that it has had on the processors so far, all its threads together. */
  Duration processorTime() throws IOException {
    return process
        .info()
        .totalCpuDuration()
        .orElseThrow(() -> new IOException("process " + process.pid() + " tells no time"));
  }

  /** Bytes that it has had written to storage so far (proc(5), write_bytes of /proc/pid/io). */
  long writtenBytes() throws IOException {
    for (String line : Files.readAllLines(Path.of("/proc/" + process.pid() + "/io"))) {
      if (line.startsWith("write_bytes:")) {
        return Long.parseLong(line.replaceAll("\\D", ""));
      }
    }
    throw new IOException("process " + process.pid() + " tells no write_bytes");
  }

  @Override
  public void close() {
    process.destroy();
    try {
      if (!process.waitFor(10, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
